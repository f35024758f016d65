export * from "./exports-advice.js";
export { Reduced, Workshop } from "./workshop.js";
export type { Logs, ReduceOptions } from "./workshop.js";
export type * from "./result.js";
export type * from "./road-types.js";
