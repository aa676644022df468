import type { EventLog } from "../../gateway/virtual-shop/plant/run.ts";
import type { Actor } from "../../gateway/virtual-shop/plant/welder.ts";
import { Cycle, reDial } from "./cycle.ts";
import { type Scenario, startUnixS } from "./simulate.ts";
import { liquidStation, tigStation } from "./stations.ts";

/** Shops whose doors, welders and gases break what the estimator takes for granted. */

type Make = (name: string, about: string, rest: Partial<Scenario> & Extra) => Scenario;
interface Extra {
  bar?: number;
  more?: ReturnType<Scenario["variation"]>;
}

/** The air of a shop whose door stands open: most of the fall within some minutes, and back again. */
function doorOpen(fallK: number, hours: number, openS: number): Actor {
  const from = startUnixS + hours * 3600;
  let shutK = 0;
  let warmK: number | null = null;
  return {
    nextS: from,
    act(plant) {
      const t = this.nextS;
      warmK ??= plant.truth(0).airK - 273.15;
      const open = t < from + openS;
      const share = open ? 1 - Math.exp(-(t - from) / 200) : Math.exp(-(t - from - openS) / 900);
      if (open) shutK = fallK * share;
      plant.inputs.airC = warmK - (open ? shutK : shutK * share);
      this.nextS = t > from + openS + 5400 ? Number.POSITIVE_INFINITY : t + 10;
      if (this.nextS === Number.POSITIVE_INFINITY) plant.inputs.airC = null;
    },
  };
}

const steady = (log: EventLog, seed: number) => new Cycle(log, seed, [120, 400], [30, 150]);

export function hardShops(make: Make): Scenario[] {
  return [
    make(
      "door-open",
      "workshop door opened in winter: 15 K colder within minutes, for 40 minutes",
      {
        breaks: true,
        habits: undefined,
        hours: 5,
        actors: (_p, _r, log, seed) => [steady(log, seed), doorOpen(15, 2, 2400)],
      },
    ),
    make("tacking", "an hour of tack welds of 2 to 5 s, then the seams", {
      breaks: true,
      habits: undefined,
      hours: 3,
      actors: (_p, _r, log, seed) => [
        new Cycle(log, seed, [2, 5], [4, 12], 300, 3900),
        new Cycle(log, seed + 500, [60, 240], [20, 90], 4000),
      ],
    }),
    make("helium-quick", "75/25 argon/helium, short cycles from the start", {
      breaks: true,
      habits: undefined,
      hours: 3,
      station: tigStation({
        cylinder: { gas: "I3-ArHe-25", composition: { Ar: 0.75, He: 0.25 } },
      }),
      actors: (_p, _r, log, seed) => [new Cycle(log, seed, [10, 40], [10, 40])],
    }),
    {
      ...make("liquid-turned", "float turned up by a quarter while the CO2 is liquid", {
        breaks: true,
        habits: undefined,
        hours: 5,
        more: { presentKg: 15 },
        actors: (_p, _r, log, seed) => [
          new Cycle(log, seed, [60, 240], [30, 90]),
          reDial(log, 2, 1.25),
        ],
      }),
      station: liquidStation(15, { regulator: { heated: true } }),
    },
  ];
}
