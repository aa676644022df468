import { exampleStations } from "@leeward/gateway/virtual-shop/example-stations.ts";
import { plantConfigFor } from "@leeward/gateway/virtual-shop/plant/from-station.ts";
import { createPlant } from "@leeward/gateway/virtual-shop/plant/plant.ts";
import { createRandom } from "@leeward/gateway/virtual-shop/plant/random.ts";
import { EventLog, type TruthPoint, truthPoint } from "@leeward/gateway/virtual-shop/plant/run.ts";
import { stories } from "@leeward/gateway/virtual-shop/stories/index.ts";
import { ScriptActor } from "@leeward/gateway/virtual-shop/stories/script.ts";
import { personEntrySchema } from "@leeward/shared-core/messages/person-entry.ts";
import { describe, expect, it } from "vitest";

const times = { startS: 1764057600, presentS: 1764057600 + 3.5 * 3600 };
const stations = exampleStations("boatyard", times);

/** Plays one story without its node, with a look each ten seconds. */
function play(name: string, hours: number, seed = 11) {
  const i = stations.findIndex((station) => station.station === name);
  const story = stories[i]!;
  const plant = createPlant(
    plantConfigFor(stations[i]!, { startUnixS: times.startS, ...story.variation(times) }),
    seed,
  );
  plant.setReading(story.reading);
  const log = new EventLog();
  const actor = new ScriptActor(
    { plant, random: createRandom(seed, 50), log, t: plant.t },
    (scene) => story.play(scene, times),
  );
  const looks: TruthPoint[] = [];
  for (let t = plant.t + 10; t < times.startS + hours * 3600; t += 10) {
    while (actor.nextS <= t) {
      plant.step(Math.max(0, actor.nextS - plant.t));
      actor.act();
    }
    plant.step(t - plant.t);
    looks.push(truthPoint(plant, 0, 0));
  }
  const live = looks.filter((look) => look.t >= times.presentS);
  return { looks, live, log };
}

/** Looks within so many minutes of the visitors' coming in. */
const early = (live: TruthPoint[], minutes: number) =>
  live.filter((look) => look.t < times.presentS + minutes * 60);

const flowing = (looks: TruthPoint[]) => looks.filter((look) => look.gasOn && look.flowLpm > 2);

const mean = (values: number[]) => values.reduce((a, b) => a + b, 0) / Math.max(1, values.length);

describe("stories of the demo shop", () => {
  it("short flow: the float stands near 8 and less than 6.3 L/min passes, soon and for two days", () => {
    const { live, log } = play("hull-bay", 52);
    const soon = flowing(early(live, 4));
    expect(soon.length).toBeGreaterThan(3);
    const all = flowing(live).filter((look) => Math.abs(look.flowLpm - look.torchLpm) < 0.2);
    expect(mean(all.map((look) => look.indicated))).toBeGreaterThan(7.6);
    expect(mean(all.map((look) => look.indicated))).toBeLessThan(8.2);
    expect(mean(flowing(early(live, 30)).map((look) => look.flowLpm))).toBeLessThan(6);
    expect(all.filter((look) => look.flowLpm < 6.3).length / all.length).toBeGreaterThan(0.6);
    expect(log.events.filter((event) => event.event === "swap").length).toBeGreaterThan(4);
    expect(Math.min(...live.map((look) => look.contentLitres))).toBeGreaterThan(300);
  });

  it("long seam: about half an hour of gas is left for more than an hour of seam, again and again", () => {
    const { live, log } = play("slipway", 52);
    const first = live[0]!;
    const residual = 20 * 10;
    const minutes = (first.contentLitres - residual) / 20;
    expect(minutes).toBeGreaterThan(15);
    expect(minutes).toBeLessThan(50);
    expect(flowing(early(live, 3)).length).toBeGreaterThan(3);
    expect(log.events.filter((event) => event.event === "swap").length).toBeGreaterThan(8);
    expect(log.persons.filter((p) => p.person.job).length).toBeGreaterThan(8);
  });

  it("trapped line: closed, full and warming when visitors come, below its limit, and bled in the end", () => {
    const { live } = play("quay", 52);
    const soon = early(live, 30);
    expect(soon.every((look) => !look.valveOpen)).toBe(true);
    const rise = (soon.at(-1)!.lineGaugePa - soon[0]!.lineGaugePa) / 1e5;
    expect(rise).toBeGreaterThan(0.15);
    expect(Math.max(...live.map((look) => look.lineGaugePa))).toBeLessThan(5.4e5);
    const shares = live.filter((look) => !look.valveOpen && look.lineGaugePa > 3e5);
    expect(shares.length / live.length).toBeGreaterThan(0.5);
    expect(live.some((look) => look.lineGaugePa < 0.05e5)).toBe(true);
    expect(flowing(live).length).toBeGreaterThan(500);
  });

  it("open purge: ten-minute purges before, one that has run for forty minutes when visitors come", () => {
    const { looks, live } = play("pipe-purge", 52);
    const runs: { from: number; s: number }[] = [];
    for (const look of looks) {
      const last = runs.at(-1);
      if (!look.gasOn) continue;
      if (last && look.t - last.from - last.s <= 10) last.s = look.t - last.from;
      else runs.push({ from: look.t, s: 0 });
    }
    const long = runs.filter((run) => run.s > 3600);
    const usual = runs.filter((run) => run.s <= 3600);
    expect(usual.length).toBeGreaterThan(20);
    expect(Math.max(...usual.map((run) => run.s))).toBeLessThan(800);
    expect(long.length).toBeGreaterThan(8);
    expect(live[0]!.gasOn).toBe(true);
    expect(times.presentS - long[0]!.from).toBeGreaterThan(35 * 60);
    expect(times.presentS - long[0]!.from).toBeLessThan(60 * 60);
    expect(Math.min(...live.map((look) => look.cylinderGaugePa))).toBeGreaterThan(-1e4);
  });

  it("healthy: flow inside its window at every look, never short of gas", () => {
    const { live } = play("prop-shop", 52);
    const settled = flowing(live).filter((look) => Math.abs(look.flowLpm - look.torchLpm) < 0.1);
    expect(settled.length).toBeGreaterThan(2000);
    expect(Math.min(...settled.map((look) => look.flowLpm))).toBeGreaterThan(8.5);
    expect(Math.max(...settled.map((look) => look.flowLpm))).toBeLessThan(11);
    const content = live.map((look) => look.contentLitres);
    expect(Math.min(...content)).toBeGreaterThan(3000);
  });

  it("last liquid: gone within a quarter of an hour of the visitors' coming, then the gauge falls", () => {
    const { looks, live, log } = play("frame-shop", 52);
    const hourBefore = looks.find((look) => look.t >= times.presentS - 3 * 3600)!;
    const drop = (hourBefore.cylinderGaugePa - live[0]!.cylinderGaugePa) / 1e5;
    expect(live[0]!.cylinderGaugePa).toBeGreaterThan(40e5);
    expect(drop).toBeLessThan(9);
    const later = live.find((look) => look.t >= times.presentS + 2 * 3600)!;
    expect((live[0]!.cylinderGaugePa - later.cylinderGaugePa) / 1e5).toBeGreaterThan(8);
    expect(log.events.filter((event) => event.event === "swap").length).toBeGreaterThan(3);
  });

  it("says only what people can say", () => {
    for (const station of stations) {
      for (const { person } of play(station.station, 12).log.persons) {
        expect(personEntrySchema.safeParse(person).success).toBe(true);
      }
    }
  });
});
