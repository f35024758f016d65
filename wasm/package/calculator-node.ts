import { readFile } from "node:fs/promises";
import * as raw from "./raw-calculator.js";
import { loader } from "./load.js";
import { Calculator } from "./calculator.js";

/** Loads the module once; give bytes or a compiled module to say where from. */
export const load = loader(raw, () => readFile(new URL("./raw-calculator_bg.wasm", import.meta.url)), (r) => new Calculator(r));

export * from "./exports-calculator.js";
