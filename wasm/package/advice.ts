import { Calculator } from "./calculator.js";
import type * as T from "./advice-types.js";

/** The plain questions, and those about fuel, knock, stress, road times and claims. */
export class Advice extends Calculator {
  /** A fuel, or every grade. */
  fuel(question: T.FuelQuestion = {}): T.FuelAnswer {
    return this.json("fuel", question);
  }

  /** The knock margin of each fuel. No calculated margin replaces a measurement. */
  knock(question: T.KnockQuestion): T.KnockAnswer {
    return this.json("knock", question);
  }

  /** What the power costs the engine. */
  stress(question: T.StressQuestion): T.StressAnswer {
    return this.json("stress", question);
  }

  /** Times that the road will show. */
  road(question: T.RoadQuestion): T.RoadAnswer {
    return this.json("road", question);
  }

  /** Every check that a claim has input for. */
  vet(question: T.VetQuestion): T.VetAnswer {
    return this.json("vet", question);
  }
}
