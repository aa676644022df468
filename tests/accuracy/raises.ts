import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import type { TruthPoint } from "../../gateway/virtual-shop/plant/run.ts";

/** The ten minutes of the forecast and its delay, with what passes until gas flows again, s. */
const ICE_WITHIN_S = 900;

/** Tells raises that were true from those that were not, by what the plant really did. */
export class RaiseCounter {
  /** False raises by condition; one that is shown again counts once. */
  readonly counts = new Map<string, number>();
  /** Those that were true, by condition. */
  readonly trueCounts = new Map<string, number>();
  /** The first few false ones, for a person to look at. */
  readonly samples: string[] = [];
  readonly #seen = new Set<string>();
  readonly #station: StationDocument;
  #truth: TruthPoint | null = null;
  /** Latest flow while gas was on, and when that began and ended. */
  #flowLpm = 0;
  #onSince: number | null = null;
  /** Litres used today, and on the last whole day that used any. */
  #day = 0;
  #dayL = 0;
  #lastDayL: number | null = null;
  /** Raises that say less than a day's gas is left: what was usable then, judged by what the next day used. */
  #lessThanADay: { day: number; usableL: number; sample: string }[] = [];
  /** Warnings of ice that wait for what the body did afterwards. */
  #ice: { untilT: number; sample: string }[] = [];
  #lastT = 0;
  /** The latest time that the link was away, Unix s; `to` infinite while it is. */
  #away: { from: number; to: number } | null = null;
  /** Flows of the last quarter of an hour, least and most. */
  #recent: { t: number; lpm: number }[] = [];

  readonly #icingBelowC: number;

  /** @param icingBelowC body temperature below which this plant's regulator delivers less */
  constructor(station: StationDocument, icingBelowC: number) {
    this.#station = station;
    this.#icingBelowC = icingBelowC;
  }

  truth(point: TruthPoint): void {
    this.#truth = point;
    this.#judgeIce(point);
    const on = point.gasOn && point.valveOpen;
    const day = Math.floor(point.t / 86_400);
    if (day !== this.#day) {
      if (this.#dayL > 0) this.#endDay();
      this.#dayL = 0;
    }
    this.#day = day;
    if (on && this.#lastT > 0) this.#dayL += (point.flowLpm * (point.t - this.#lastT)) / 60;
    this.#lastT = point.t;
    if (!on) this.#onSince = null;
    else {
      this.#onSince ??= point.t;
      this.#flowLpm = point.flowLpm;
      if (point.t - this.#onSince >= 10) this.#recent.push({ t: point.t, lpm: point.flowLpm });
    }
    while (this.#recent.length > 1 && point.t - this.#recent[0]!.t > 900) this.#recent.shift();
  }

  /** The network went away, or came back. */
  link(down: boolean, t: number): void {
    if (down) this.#away = { from: t, to: Number.POSITIVE_INFINITY };
    else if (this.#away !== null) this.#away.to = t;
  }

  take(estimate: Estimate): void {
    for (const { condition, since, title } of estimate.alarms) {
      const occurrence = `${condition} ${since}`;
      if (this.#seen.has(occurrence)) continue;
      this.#seen.add(occurrence);
      const at = new Date(estimate.t * 1000).toISOString().slice(0, 16);
      const sample = `${at} ${condition}: ${title ?? ""}`;
      const isTrue = this.#isTrue(condition, estimate, since);
      if (!isTrue && condition === "cylinder-low" && this.#truth !== null) {
        const usableL = this.#truth.usableLitres;
        this.#lessThanADay.push({ day: this.#day, usableL, sample });
      } else if (!isTrue && condition === "regulator-icing") {
        this.#ice.push({ untilT: estimate.t + ICE_WITHIN_S, sample });
      } else this.#count(condition, isTrue, sample);
    }
  }

  /** A warning of ice was right where the cold has taken from delivery before its time was over. */
  #judgeIce(point: TruthPoint): void {
    if (this.#ice.length === 0) return;
    const fallen = point.bodyC < this.#icingBelowC;
    const due = this.#ice.filter(({ untilT }) => fallen || untilT < point.t);
    this.#ice = this.#ice.filter((raise) => !due.includes(raise));
    for (const { sample } of due) this.#count("regulator-icing", fallen, sample);
  }

  /** Judges what still waits for its next day by the last one; call at the end. */
  finish(): void {
    for (const { sample } of this.#ice.splice(0)) this.#count("regulator-icing", false, sample);
    for (const { usableL, sample } of this.#lessThanADay.splice(0)) {
      this.#count("cylinder-low", isLessThanADay(usableL, this.#lastDayL ?? 0), sample);
    }
  }

  #endDay(): void {
    this.#lastDayL = this.#dayL;
    const due = this.#lessThanADay.filter(({ day }) => day < this.#day);
    this.#lessThanADay = this.#lessThanADay.filter(({ day }) => day >= this.#day);
    for (const { usableL, sample } of due) {
      this.#count("cylinder-low", isLessThanADay(usableL, this.#dayL), sample);
    }
  }

  #count(condition: string, isTrue: boolean, sample: string): void {
    const kinds = isTrue ? this.trueCounts : this.counts;
    kinds.set(condition, (kinds.get(condition) ?? 0) + 1);
    if (!isTrue && this.samples.length < 12) this.samples.push(sample);
  }

  #isTrue(condition: string, estimate: Estimate, since: number): boolean {
    const truth = this.#truth;
    if (truth === null) return false;
    const { minimumLpm, targetLpm, maximumLpm } = estimate.demand ?? {
      minimumLpm: null,
      targetLpm: null,
      maximumLpm: null,
    };
    const lpms = this.#recent.map(({ lpm }) => lpm);
    const residual = this.#station.cylinder?.residualBar ?? 2;
    switch (condition) {
      case "over-flow":
        return maximumLpm !== null && Math.max(...lpms, 0) > 0.98 * maximumLpm;
      case "under-shielding":
        return minimumLpm !== null && Math.min(...lpms, 1e9) < 1.02 * minimumLpm;
      case "runs-out-soon":
        return truth.usableLitres / Math.max(this.#flowLpm, targetLpm ?? 0, 1) < 44;
      case "cylinder-low":
        // Below a quarter of 200 bar; or a day's use, which only the next day shows.
        return truth.cylinderGaugePa < 56e5;
      case "cylinder-empty":
        return truth.cylinderGaugePa < (residual + 2) * 1e5;
      case "trapped-line-pressure":
        return !truth.valveOpen && truth.lineGaugePa > 0.2e5;
      case "node-silent":
        // Nothing could be heard: the link was away at some time between `since` and now.
        return this.#away !== null && this.#away.from <= estimate.t && this.#away.to >= since;
      case "regulator-icing":
        return truth.bodyC < this.#icingBelowC;
      case "gas-left-on":
        return this.#onSince !== null && truth.t - this.#onSince > 1200;
      default:
        return false;
    }
  }
}

/** Days differ: a warning that is out by a fifth of what the next day used was still worth giving. */
function isLessThanADay(usableL: number, nextDayL: number): boolean {
  return usableL < 1.2 * nextDayL;
}
