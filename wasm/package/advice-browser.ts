import * as raw from "./raw-advice.js";
import { loader } from "./load.js";
import { Advice } from "./advice.js";

/** Loads the module once; give a URL, bytes or a compiled module to say where from. */
export const load = loader(raw, () => new URL("./raw-advice_bg.wasm", import.meta.url), (r) => new Advice(r));

export * from "./exports-advice.js";
