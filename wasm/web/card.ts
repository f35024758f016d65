/** What every element shares: fields with labels, an answer, faults at their field, a link that restores the state. */
import { FairpullError } from "../package/fault.js";
import type { Calculator } from "../package/calculator.js";
import { el, kept, renew, type Child } from "./dom.js";
import { readLink, writeLink } from "./link.js";
import { calculator } from "./module.js";
import { learn, learned } from "./phrases.js";
import { said, spoken, wordsFor, fill, TAGS, type WordKey, type Words } from "./words.js";
import look from "./look.css?inline";

export interface Field {
  name: string;
  label: WordKey;
  kind?: "text" | "choice" | "tick";
  hint?: WordKey;
  /** Value and text. */
  choices?: (c: Calculator, w: Words) => [string, string][];
  initial?: string;
  wide?: boolean;
  /** Shown in a group of its own that opens on demand. */
  group?: WordKey;
}

export type Values = Record<string, string>;

const SHEET = new CSSStyleSheet();
SHEET.replaceSync(look);
let count = 0;

export abstract class Card extends HTMLElement {
  static readonly formAssociated = true;

  protected calc!: Calculator;
  protected words!: Words;
  readonly #internals = this.attachInternals();
  readonly #root = this.attachShadow({ mode: "open", delegatesFocus: true });
  readonly #id = `f${++count}`;
  #inputs = new Map<string, HTMLInputElement | HTMLSelectElement>();
  #answer = el("div", { class: "answer" });
  #general = el("p", { class: "general", role: "alert" });
  #values: Values = {};
  #ready = false;
  #spoken: string | undefined;
  readonly #onHash = () => this.#fromLink();

  /** The module the element calculates with. */
  protected module(): Promise<Calculator> {
    return calculator();
  }

  /** Fields in their order. */
  abstract fields(): Field[];
  /** Title and lead. */
  abstract head(w: Words): [string, string];
  /** The answer to these values; faults are thrown. */
  abstract show(v: Values): { value: string; nodes: Child[] };

  /** Attributes that set fields, with `-` for `_`. */
  attribute(name: string): string {
    return name.replaceAll("_", "-").replaceAll(".", "-");
  }

  get form(): HTMLFormElement | null {
    return this.#internals.form;
  }
  get name(): string | null {
    return this.getAttribute("name");
  }
  get type(): string {
    return this.localName;
  }
  get validity(): ValidityState {
    return this.#internals.validity;
  }
  get validationMessage(): string {
    return this.#internals.validationMessage;
  }
  checkValidity(): boolean {
    return this.#internals.checkValidity();
  }
  reportValidity(): boolean {
    return this.#internals.reportValidity();
  }

  /** What stands in the fields. */
  get values(): Values {
    return { ...this.#values };
  }

  set values(v: Values) {
    Object.assign(this.#values, v);
    for (const [name, input] of this.#inputs) put(input, this.#values[name] ?? "");
    if (this.#ready) this.#compute();
  }

  async connectedCallback(): Promise<void> {
    this.#root.adoptedStyleSheets = [SHEET];
    this.#values = Object.fromEntries(
      this.fields().map((f) => [f.name, this.getAttribute(this.attribute(f.name)) ?? f.initial ?? ""]),
    );
    addEventListener("hashchange", this.#onHash);
    this.words = wordsFor(this.#language());
    const phrases = learn(this.words.tag);
    try {
      this.calc = await this.module();
    } catch (e) {
      this.#root.replaceChildren(el("p", { class: "general", role: "alert" }, fill(this.words.noModule, String(e))));
      return;
    }
    await phrases;
    if (!this.isConnected) return;
    this.#ready = true;
    this.#fromLink();
  }

  disconnectedCallback(): void {
    removeEventListener("hashchange", this.#onHash);
  }

  static get observedAttributes(): string[] {
    return ["lang", "level"];
  }

  attributeChangedCallback(name: string, before: string | null, now: string | null): void {
    if (name === "lang" && before !== now) this.#spoken = undefined;
    if (this.#ready && before !== now) this.#build();
  }

  formResetCallback(): void {
    this.values = Object.fromEntries(
      this.fields().map((f) => [f.name, this.getAttribute(this.attribute(f.name)) ?? f.initial ?? ""]),
    );
  }

  #language(): string {
    return this.#spoken ?? this.closest("[lang]")?.getAttribute("lang") ?? "en";
  }

  /** Language tag of the element, for numbers. */
  protected get tag(): string {
    const own = this.#language();
    return own.toLowerCase().startsWith(this.words.tag) ? own : this.words.tag;
  }

  #target(): string {
    return this.id ? `${this.localName}.${this.id}` : this.localName;
  }

  #fromLink(): void {
    const link = readLink(location.hash);
    let remark = "";
    if (link === "broken") {
      if (location.hash.startsWith(`#${this.#target()}`)) remark = "broken";
    } else if (link && link.target === this.#target()) {
      const known = new Set(this.fields().map((f) => f.name));
      for (const [name, value] of link.values) {
        if (name === "lang" && TAGS.includes(value)) this.#spoken = value;
        else if (known.has(name)) this.#values[name] = value;
        else remark ||= name;
      }
    }
    this.#build();
    if (remark) {
      this.#general.textContent = remark === "broken" ? this.words.linkBroken : fill(this.words.linkUnknown, remark);
    }
  }

  #build(): void {
    const w = (this.words = wordsFor(this.#language()));
    if (!learned(w.tag)) return void learn(w.tag).then(() => w === this.words && this.#build());
    const [title, lead] = this.head(w);
    const level = this.getAttribute("level") ?? "2";
    this.#inputs = new Map();
    const groups = new Map<WordKey | undefined, HTMLElement[]>();
    for (const f of this.fields()) {
      const list = groups.get(f.group) ?? [];
      list.push(this.#field(f));
      groups.set(f.group, list);
    }
    const parts = [...groups].map(([group, nodes]) =>
      group
        ? el("details", { open: this.#groupUsed(group) }, el("summary", {}, w[group]), el("div", { class: "fields" }, ...nodes))
        : el("div", { class: "fields" }, ...nodes),
    );
    const focused = this.#root.activeElement?.id;
    this.#root.replaceChildren(
      el(
        "section",
        { class: "card", "aria-labelledby": `${this.#id}-t`, lang: w.tag },
        el("div", { id: `${this.#id}-t`, class: "title", role: "heading", "aria-level": level }, title),
        el("p", { class: "lead" }, lead),
        ...parts,
        this.#general,
        this.#answer,
        el(
          "p",
          { class: "foot" },
          el("a", { href: "#", class: "link" }, w.link),
          el("button", { type: "button", onClick: () => void this.#copy() }, w.copyLink),
          el("span", { role: "status", class: "copied" }),
        ),
      ),
    );
    if (focused) this.#root.getElementById(focused)?.focus();
    this.#compute();
  }

  #groupUsed(group: WordKey): boolean {
    return this.fields().some((f) => f.group === group && this.#values[f.name] && this.#values[f.name] !== f.initial);
  }

  #field(f: Field): HTMLElement {
    const w = this.words;
    const id = `${this.#id}-${f.name.replaceAll(".", "-")}`;
    const told = { id, name: f.name, "aria-describedby": `${id}-h ${id}-e` };
    const changed = (e: Event) => {
      this.#values[f.name] = take(e.target as HTMLInputElement);
      this.#compute();
    };
    let input: HTMLInputElement | HTMLSelectElement;
    if (f.kind === "choice") {
      const options = f.choices?.(this.calc, w) ?? [];
      const now = this.#values[f.name] ?? "";
      if (now && !options.some(([v]) => v === now)) options.push([now, now]);
      input = el("select", { ...told, onInput: changed }, ...options.map(([v, t]) => el("option", { value: v }, t)));
    } else if (f.kind === "tick") {
      input = el("input", { ...told, type: "checkbox", onInput: changed });
    } else {
      input = el("input", { ...told, type: "text", autocomplete: "off", spellcheck: "false", autocapitalize: "off", onInput: changed });
    }
    put(input, this.#values[f.name] ?? "");
    this.#inputs.set(f.name, input);
    const hint = el("p", { class: "hint", id: `${id}-h` }, f.hint ? w[f.hint] : "");
    const fault = el("p", { class: "fault", id: `${id}-e` });
    const cls = f.wide ? "field wide" : "field";
    return f.kind === "tick"
      ? el("div", { class: cls }, el("label", { class: "tick" }, input, w[f.label]), hint, fault)
      : el("div", { class: cls }, el("label", { for: id }, w[f.label]), input, hint, fault);
  }

  #compute(): void {
    for (const input of this.#inputs.values()) {
      input.removeAttribute("aria-invalid");
      const fault = this.#root.getElementById(`${input.id}-e`);
      if (fault) fault.textContent = "";
    }
    this.#general.textContent = "";
    try {
      const { value, nodes } = this.show(this.values);
      renew(this.#answer, kept(nodes));
      this.#internals.setFormValue(value);
      this.#internals.setValidity({});
      this.dispatchEvent(new CustomEvent("fairpull-answer", { bubbles: true, composed: true, detail: { value, values: this.values } }));
    } catch (e) {
      this.#answer.replaceChildren();
      this.#internals.setFormValue(null);
      this.#fault(e);
    }
    const link = this.#root.querySelector<HTMLAnchorElement>("a.link");
    if (link) link.href = this.link();
  }

  #fault(e: unknown): void {
    if (!(e instanceof FairpullError)) throw e;
    const w = this.words;
    const name = this.place(e.field);
    const input = this.#inputs.get(name);
    const empty = input && e.value === "" && (this.#values[name] ?? "") === "";
    const problem = said(this.sentence(e), w);
    const mend = said(e.mend, w);
    const parts: Child[] = [
      el("span", problem.lang ? { lang: problem.lang } : {}, problem.text),
      mend.text ? "; " : "",
      mend.text ? el("span", mend.lang ? { lang: mend.lang } : {}, mend.text) : "",
    ];
    const message = `${problem.text}${mend.text ? `; ${mend.text}` : ""}`;
    if (input) {
      const fault = this.#root.getElementById(`${input.id}-e`);
      if (!empty) input.setAttribute("aria-invalid", "true");
      (fault ?? this.#general).replaceChildren(...kept(parts));
      this.#internals.setValidity({ customError: true }, message, input);
      input.closest("details")?.setAttribute("open", "");
    } else {
      this.#general.replaceChildren(...kept(parts));
      this.#internals.setValidity({ customError: true }, message, this.#inputs.values().next().value);
    }
  }

  /** The field of this element that a fault is about. */
  protected place(field: string): string {
    return field;
  }

  /** The problem of a fault as a sentence that stands alone. */
  protected sentence(e: FairpullError): string {
    return e.value && /^(is|does|rests|needs|stands) /.test(e.problem) ? `"${e.value}" ${e.problem}` : e.problem;
  }

  /** Fields and values of the link; an element may write them shorter. */
  protected linked(v: Values): [string, string][] {
    return this.fields()
      .filter((f) => (v[f.name] ?? "") !== (f.initial ?? ""))
      .map((f) => [f.name, v[f.name] ?? ""]);
  }

  /** The address of this page with the state of this element in its fragment. */
  link(): string {
    const state = [...this.linked(this.values), ["lang", this.words.tag] as [string, string]];
    return location.href.replace(/#.*$/, "") + writeLink(this.#target(), state);
  }

  async #copy(): Promise<void> {
    const status = this.#root.querySelector(".copied");
    try {
      await navigator.clipboard.writeText(this.link());
      if (status) status.textContent = this.words.copied;
    } catch {
      if (status) status.textContent = this.words.notCopied;
    }
  }

  /** A sentence of the calculations, in the reader's language where it is known. */
  protected say(text: string): HTMLElement {
    return spoken(text, this.words);
  }

  /** A list that opens on demand; nothing when it is empty. */
  protected fold(title: string, items: Child[], open = false): Child {
    return items.length > 0 && el("details", { open }, el("summary", {}, title), el("ul", {}, ...items.map((i) => el("li", {}, i))));
  }
}

function put(input: HTMLInputElement | HTMLSelectElement, value: string): void {
  if (input instanceof HTMLInputElement && input.type === "checkbox") input.checked = value === "yes";
  else input.value = value;
}

function take(input: HTMLInputElement | HTMLSelectElement): string {
  if (input instanceof HTMLInputElement && input.type === "checkbox") return input.checked ? "yes" : "";
  return input.value;
}

/** Only the values that are given, named without a prefix. */
export function given(v: Values, names: string[]): Record<string, string> {
  return Object.fromEntries(names.filter((n) => v[n]?.trim()).map((n) => [n, (v[n] ?? "").trim()]));
}

/** A plain number with decimal point or comma; the field is named in the fault. */
export function plainNumber(field: string, text: string, w: Words): number {
  const x = Number(text.trim().replace(",", "."));
  if (text.trim() === "" || !Number.isFinite(x)) {
    throw new FairpullError({ field, value: text, problem: fill(w.notANumber, text), mend: "", file: "", line: 0, column: 0 });
  }
  return x;
}
