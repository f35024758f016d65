/** The modules, each loaded once, and only when an element needs it, from beside this script. */
import * as rawCalculator from "../lib/raw-calculator.js";
import * as rawAdvice from "../lib/raw-advice.js";
import { beside } from "./beside.js";
import { loader } from "../package/load.js";
import { Calculator } from "../package/calculator.js";
import { Advice } from "../package/advice.js";

export const calculator = loader(rawCalculator, () => beside("calculator.wasm"), (r) => new Calculator(r));
export const advice = loader(rawAdvice, () => beside("advice.wasm"), (r) => new Advice(r));
