import { demandWindow } from "../demand/index.ts";
import type { StationDocument } from "../documents/station.ts";
import { PhysicsError } from "../errors.ts";
import type { DemandWindow } from "../estimation/estimate.ts";
import { correctionFactor } from "../flow/variable-area.ts";
import type { Composition } from "../gases/composition.ts";
import { createMixture } from "../gases/mixture.ts";
import { atmosphericPressurePa } from "../units/atmosphere.ts";
import { ATMOSPHERE_PA, BAR_PA, CELSIUS_ZERO_K } from "../units/factors.ts";

/** What is tried out; what is left out stays as the station has it. */
export interface WhatIf {
  procedure?: Partial<NonNullable<StationDocument["procedure"]>>;
  composition?: Composition;
  deliveryBar?: number;
  flowDevice?: NonNullable<StationDocument["flowDevice"]>;
}

export interface WhatIfResult {
  window: DemandWindow;
  /** True over indicated flow; null with `why` where the device or its pressure is not known. */
  trueOverIndicated: number | null;
  /** Reading for the target in `metric20` L/min on the scale; null as above. */
  dialToLpm: number | null;
  why?: string;
}

/**
 * The demand window and what the device would really give, for a station with something changed.
 * Uses the scale as printed; the Bench's fit knows better where there is one.
 */
export function whatIf(station: StationDocument, change: WhatIf): WhatIfResult {
  const composition = change.composition ?? station.cylinder?.composition;
  const procedure = station.procedure ? { ...station.procedure, ...change.procedure } : undefined;
  const window = demandWindow({ ...station, procedure }, composition);
  const none = (why: string): WhatIfResult => ({
    window,
    trueOverIndicated: null,
    dialToLpm: null,
    why,
  });
  const device = change.flowDevice ?? station.flowDevice;
  const deliveryBar = change.deliveryBar ?? station.regulator?.deliveryBar;
  if (!device) return none("the station has no flow device");
  if (!composition) return none("the gas is not known");
  if (device.kind === "metered") return factor(1);
  if (device.kind === "orifice-gauge") {
    return none("an orifice gauge's error is found at the bench, not from its description");
  }
  if (device.valve === "before-tube") {
    return none("with the valve before the tube its pressure is the hose's: measure it");
  }
  if (deliveryBar === undefined) return none("the delivery pressure is not known");
  try {
    return factor(
      correctionFactor(
        {
          mixture: createMixture(device.scaleGas),
          pressurePa: device.scaleBar * BAR_PA + ATMOSPHERE_PA,
          temperatureK: (device.scaleC ?? 21) + CELSIUS_ZERO_K,
          reference: "metric20",
        },
        {
          mixture: createMixture(composition),
          pressurePa: deliveryBar * BAR_PA + atmosphericPressurePa(station.altitudeM ?? 0),
          temperatureK: 20 + CELSIUS_ZERO_K,
        },
      ),
    );
  } catch (error) {
    if (error instanceof PhysicsError) return none(error.message);
    throw error;
  }

  function factor(value: number): WhatIfResult {
    return {
      window,
      trueOverIndicated: value,
      dialToLpm: window.targetLpm === null ? null : window.targetLpm / value,
      ...(window.targetLpm === null ? { why: window.why ?? "no target flow" } : {}),
    };
  }
}
