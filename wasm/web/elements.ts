/** The elements. One script and one tag put a calculator on any page. */
import { Convert } from "./convert.js";
import { Factors } from "./factors.js";
import { Knock } from "./knock.js";
import { Restate } from "./restate.js";
import { Road } from "./road.js";
import { Vet } from "./vet.js";

const ELEMENTS = {
  "fairpull-convert": Convert,
  "fairpull-factors": Factors,
  "fairpull-restate": Restate,
  "fairpull-road": Road,
  "fairpull-knock": Knock,
  "fairpull-vet": Vet,
};

for (const [name, element] of Object.entries(ELEMENTS)) {
  if (!customElements.get(name)) customElements.define(name, element);
}

export { Convert, Factors, Knock, Restate, Road, Vet };
