import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type {
  DemandWindow,
  Estimate,
  FlowEstimate,
} from "@leeward/shared-core/estimation/estimate.ts";
import { locale } from "../language/live-words.ts";
import { words } from "../language/words.ts";
import { alarmText, dialledNow } from "./alarm-text.ts";
import { ageInWords, secondsInWords } from "./durations.ts";
import type { Freshness } from "./freshness.ts";
import { readingFigure } from "./numbers.ts";
import { setupHref } from "./route.ts";
import { metricUnits, type UnitChoice } from "./units.ts";
import { mostUrgentFirst, type Urgency, urgencyOf } from "./urgency.ts";

/** What is wrong (bold) and what to do after it. No urgency: nobody has to act. */
export interface Sentence {
  urgency: Urgency | null;
  title: string;
  advice: string;
  /** When it became true, Unix s, where it is an alarm. */
  since: number | null;
  /** Calm, but not right: read in bold all the same. */
  bold: boolean;
  /** How many further alarms stand behind it. */
  more: number;
  /** Where it is put right, when that is the station's page of Setup. */
  setupHref?: string;
}

/** A part of a station's description that may not be there yet. */
export type MissingPart = "regulator" | "flowDevice" | "procedure";

/** How a flow stands to the window of the weld, given its interval. */
export type FlowVerdict = "right" | "low" | "high" | "near-low" | "near-high" | "unknown";

export function flowVerdict(flow: FlowEstimate | null, demand: DemandWindow | null): FlowVerdict {
  if (!flow || flow.lpm === null || !demand) return "unknown";
  const { minimumLpm, maximumLpm } = demand;
  if (minimumLpm === null || maximumLpm === null) return "unknown";
  const low = flow.low ?? flow.lpm;
  const high = flow.high ?? flow.lpm;
  if (high < minimumLpm) return "low";
  if (low > maximumLpm) return "high";
  if (low < minimumLpm) return "near-low";
  if (high > maximumLpm) return "near-high";
  return "right";
}

const quiet = (title: string, advice = "", bold = false): Sentence => ({
  urgency: null,
  title,
  advice,
  bold,
  since: null,
  more: 0,
});

/** The one sentence of a station. It claims no more than is known. */
export function sentenceOf(
  view: StationView,
  age: Freshness,
  liquid: boolean,
  units: UnitChoice = metricUnits,
): Sentence {
  const estimate = view.estimate;
  const s = words.sentence;
  const aheadS = view.node.clockAheadS;
  if (aheadS !== undefined && age.state !== "live") {
    const clock = estimate?.alarms.find(({ condition }) => condition === "node-clock-wrong");
    if (clock) return fromAlarm(clock, estimate!, view, units);
    return quiet(s.clockAhead(secondsInWords(aheadS)), s.clockAheadAdvice, true);
  }
  if (!estimate || age.state === "none") {
    return view.node.name
      ? withMissing(view, quiet(s.noDataYet))
      : { ...quiet(s.noNode, s.noNodeAdvice), setupHref: setupHref(view.id) };
  }
  const alarms = mostUrgentFirst(estimate.alarms);
  const first = alarms[0];
  if (age.state === "old") {
    const ageText = age.ageS === null ? "" : ageInWords(age.ageS);
    if (first) {
      const alarm = fromAlarm(first, estimate, view, units);
      // The node's own silence stays urgent; any other alarm is only what was last known.
      if (first.condition === "node-silent") return alarm;
      return { ...alarm, advice: `${s.lastKnown(ageText)} ${alarm.advice}`.trim() };
    }
    return quiet(s.oldTitle(ageText), view.node.state === "offline" ? s.nodeOffline : s.oldAdvice);
  }
  if (first) return fromAlarm(first, estimate, view, units);
  return calm(estimate, view, liquid);
}

/** Parts that the description of a station lacks, without which no flow can be judged. */
export function missingParts({ description }: StationView): MissingPart[] {
  const parts: MissingPart[] = [];
  if (!description.regulator && !description.supply) parts.push("regulator");
  if (!description.flowDevice) parts.push("flowDevice");
  if (!description.procedure) parts.push("procedure");
  return parts;
}

/**
 * A sentence that judges no flow: where parts of the description are missing for that, it (or
 * another in its place) names them first.
 */
function withMissing(view: StationView, usual: Sentence, half = usual): Sentence {
  const parts = missingParts(view);
  if (parts.length === 0) return usual;
  const s = words.sentence;
  const names = new Intl.ListFormat(locale.value).format(parts.map((part) => s.parts[part]));
  return {
    ...half,
    advice: `${s.notDescribed(names)} ${half.advice}`.trim(),
    bold: true,
    setupHref: setupHref(view.id),
  };
}

function fromAlarm(
  alarm: Estimate["alarms"][number],
  estimate: Estimate,
  view: StationView,
  units: UnitChoice,
): Sentence {
  return {
    urgency: urgencyOf(alarm),
    ...alarmText(dialledNow(alarm, estimate.dialTo, view.description), units),
    since: alarm.since,
    bold: true,
    more: estimate.alarms.length - 1,
  };
}

function calm(estimate: Estimate, view: StationView, liquid: boolean): Sentence {
  const s = words.sentence;
  const liquidNote = liquid ? s.liquid : "";
  switch (estimate.mode) {
    case "flowing": {
      if (estimate.flow.lpm === null) {
        return withMissing(view, quiet(s.flowUnknown, liquidNote, true));
      }
      const verdict = flowVerdict(estimate.flow, estimate.demand);
      if (verdict === "unknown") {
        return withMissing(view, quiet(s.noWindow, liquidNote), quiet(s.notJudged, liquidNote));
      }
      return quiet(s.verdict[verdict], liquidNote, verdict !== "right");
    }
    case "idle": {
      const verdict = flowVerdict(estimate.expected, estimate.demand);
      if (verdict === "unknown") return withMissing(view, quiet(s.off, liquidNote));
      const dial = estimate.dialTo.reading;
      const setTo =
        (verdict === "low" || verdict === "high") && dial !== null
          ? s.setBefore(readingFigure(dial), estimate.dialTo.unit ?? "")
          : liquidNote;
      return quiet(s.next[verdict], setTo, verdict !== "right");
    }
    case "valve-closed": {
      const everOpen = estimate.content.litres !== null;
      return withMissing(
        view,
        everOpen ? quiet(s.valveClosed, s.valveClosedNote) : quiet(s.neverOpen, s.neverOpenNote),
      );
    }
    case "unknown":
      return withMissing(view, quiet(s.unknown, s.unknownNote), quiet(s.halfSetUp));
    case "silent":
      return quiet(s.silent, view.node.state === "offline" ? s.nodeOffline : "");
  }
}
