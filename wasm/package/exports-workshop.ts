export * from "./exports-advice.js";
export { Workshop } from "./workshop.js";
export type { Logs, Reduced, ReduceOptions } from "./workshop.js";
export type * from "./result.js";
