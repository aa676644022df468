/** Post-flow against what it spares, with the owner's own prices. */
export interface PostFlowInput {
  /** True flow, `metric20` L/min. */
  flowLpm: number;
  postflowS: number;
  stopsPerDay: number;
  workdaysPerYear: number;
  pricePerLitre: number;
  /** Price of the consumables of one tungsten or cup, and how many stops it lasts now; null: unknown. */
  consumable: { price: number; stops: number } | null;
}

export interface PostFlowCost {
  litresPerStop: number;
  costPerSecondYear: number;
  gasCostPerYear: number;
  consumableCostPerYear: number | null;
  /**
   * Part by which consumables must last longer for one more second of post-flow to pay;
   * null where their price is not known or nothing is spent on them.
   */
  breakEvenLongerLife: number | null;
}

export type PostFlowAnswer = { ok: true; value: PostFlowCost } | { ok: false; why: string };

/** Cost of post-flow a year, of each second of it, and when one more second pays. */
export function postFlowCost(input: PostFlowInput): PostFlowAnswer {
  for (const name of [
    "flowLpm",
    "postflowS",
    "stopsPerDay",
    "workdaysPerYear",
    "pricePerLitre",
  ] as const) {
    if (!(input[name] >= 0 && Number.isFinite(input[name]))) {
      return { ok: false, why: `${name} is ${input[name]}; it must be 0 or more` };
    }
  }
  const { consumable } = input;
  if (consumable !== null && !(consumable.stops > 0 && consumable.price >= 0)) {
    return { ok: false, why: "consumable needs a price of 0 or more and stops above 0" };
  }
  const stops = input.stopsPerDay * input.workdaysPerYear;
  const costPerSecondYear = (input.flowLpm / 60) * stops * input.pricePerLitre;
  const spent = consumable === null ? null : (stops / consumable.stops) * consumable.price;
  return {
    ok: true,
    value: {
      litresPerStop: (input.flowLpm / 60) * input.postflowS,
      costPerSecondYear,
      gasCostPerYear: costPerSecondYear * input.postflowS,
      consumableCostPerYear: spent,
      // spent / (1 + x) + one second = spent  =>  x = second / (spent - second)
      breakEvenLongerLife:
        spent === null || spent <= costPerSecondYear
          ? null
          : costPerSecondYear / (spent - costPerSecondYear),
    },
  };
}
