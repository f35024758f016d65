export * from "./exports-calculator.js";
export { Advice } from "./advice.js";
export type * from "./advice-types.js";
