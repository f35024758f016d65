/** The calculator module, loaded once from beside this script. */
import * as raw from "../lib/raw-calculator.js";
import { loader } from "../package/load.js";
import { Calculator } from "../package/calculator.js";

export const module = loader(raw, () => new URL("calculator.wasm", import.meta.url), (r) => new Calculator(r));
