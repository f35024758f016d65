import { readFile } from "node:fs/promises";
import * as raw from "./raw-workshop.js";
import { loader } from "./load.js";
import { Workshop } from "./workshop.js";

/** Loads the module once; give bytes or a compiled module to say where from. */
export const load = loader(raw, () => readFile(new URL("./raw-workshop_bg.wasm", import.meta.url)), (r) => new Workshop(r));

export * from "./exports-workshop.js";
