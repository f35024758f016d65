export * from "./exports-calculator.js";
export { Workshop } from "./workshop.js";
export type { Logs, Reduced, ReduceOptions } from "./workshop.js";
export type * from "./result.js";
