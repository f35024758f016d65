export { Calculator } from "./calculator.js";
export { FairpullError } from "./fault.js";
export type { Source } from "./load.js";
export type * from "./types.js";
