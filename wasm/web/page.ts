/** What every page shares: words by language, the choice in the link, the service worker. */
import { beside } from "./beside.js";
import { el } from "./dom.js";
import { pageWords, type PageWords } from "./page-words.js";
import { TAGS, wordsFor } from "./words.js";

function wanted(): string {
  const asked = /[?&]lang=([a-z]{2})/.exec(location.search + location.hash)?.[1];
  return asked && TAGS.includes(asked) ? asked : TAGS.find((t) => navigator.language.startsWith(t)) ?? "en";
}

let tag = wanted();

/** The words of the page. */
export function words(): PageWords {
  return pageWords(tag);
}

function fillIn(): void {
  const w = words() as unknown as Record<string, unknown>;
  document.documentElement.lang = tag;
  for (const node of document.querySelectorAll<HTMLElement>("[data-t]")) {
    const text = w[node.dataset.t ?? ""];
    if (typeof text === "string") node.textContent = text;
  }
  document.title = document.querySelector("h1")?.textContent ?? document.title;
  for (const a of document.querySelectorAll<HTMLAnchorElement>("a[data-keep]")) {
    a.search = `?lang=${tag}`;
  }
  for (const e of document.querySelectorAll("[data-element]")) e.setAttribute("lang", tag);
}

/** Fills the page in the reader's language and keeps the choice in the link. */
export function chrome(changed: () => void = () => {}): void {
  const box = document.getElementById("language");
  const options = TAGS.map((t) => el("option", { value: t, lang: t }, wordsFor(t).name));
  if (box instanceof HTMLSelectElement) {
    box.replaceChildren(...options);
    box.value = tag;
    box.addEventListener("change", () => {
      tag = box.value;
      const url = new URL(location.href);
      url.searchParams.set("lang", tag);
      url.hash = url.hash.replace(/([?&]lang=)[a-z]{2}/, `$1${tag}`);
      history.replaceState(null, "", url);
      fillIn();
      changed();
    });
  }
  fillIn();
  if ("serviceWorker" in navigator && isSecureContext) {
    navigator.serviceWorker.register(beside("sw.js")).then(
      () => navigator.serviceWorker.ready.then(() => document.getElementById("offline")?.replaceChildren(words().offlineReady)),
      () => undefined, // without it the page works as long as there is a connection
    );
  }
}
