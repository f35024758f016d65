// Chromium and a server of dist/ for the browser tests.
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { serve } from "../serve.mjs";

const FLAGS = [
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** Why there are no browser tests here, or nothing. */
export const left = process.env.FAIRPULL_NO_BROWSER ? "left out on request" : false;

export async function open() {
  const named = process.env.CHROMIUM;
  const executablePath = named ?? ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find(existsSync);
  if (!executablePath) throw new Error("no Chromium: install it or name it in CHROMIUM");
  const args = process.getuid?.() === 0 ? [...FLAGS, "--no-sandbox"] : FLAGS;
  const browser = await chromium.launch({ executablePath, args });
  const server = serve(fileURLToPath(new URL("../dist", import.meta.url)));
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  const base = `http://127.0.0.1:${server.address().port}/`;
  const page = async (path, options = {}) => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
    const p = await context.newPage();
    p.faults = [];
    p.foreign = [];
    p.on("pageerror", (e) => p.faults.push(e.message));
    p.on("console", (m) => m.type() === "error" && p.faults.push(m.text()));
    p.on("request", (r) => !r.url().startsWith(base) && !/^(data|blob|about):/.test(r.url()) && p.foreign.push(r.url()));
    await p.goto(base + path);
    return p;
  };
  return {
    base,
    page,
    server,
    async close() {
      await browser.close();
      server.close();
    },
  };
}

/** Waits until an element shows an answer or a fault. */
export async function answered(p, tag) {
  await p.waitForFunction(
    (t) => {
      const root = document.querySelector(t)?.shadowRoot;
      return root?.querySelector(".answer")?.childElementCount > 0 || [...(root?.querySelectorAll(".fault,.general") ?? [])].some((f) => f.textContent);
    },
    tag,
    { timeout: 15000 },
  );
}
