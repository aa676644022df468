import { emptyLinePa } from "../alarms/arc-without-gas.ts";
import type { StationSnapshot } from "../alarms/condition.ts";
import { backPressureNow, belowHold, icingNow, probedK } from "./condition-watch.ts";
import { contentFigure } from "./content-figure.ts";
import { ROOM, WALL } from "./cylinder-filter.ts";
import { risePa } from "./drop.ts";
import { type DropState, hasLine } from "./drop-state.ts";
import { flowFigure } from "./flow-figure.ts";
import { isQuietHour, localTimeS, meanDayS } from "./habit.ts";
import { hoseLetsNoneOut } from "./hose-gas.ts";
import { MOST_SIGMA } from "./interval.ts";
import { cylinderLeak } from "./leak-watch.ts";
import { levelPa } from "./line-flow.ts";
import type { DropPlan, SupplyPlan } from "./plan.ts";
import { minutesFigure, modeOf } from "./report.ts";
import { dialTo, indicated } from "./scale-reading.ts";
import { silentSince as sinceOf } from "./silence.ts";
import { silentAsPlanned } from "./site-hours.ts";
import { usualSpell } from "./spells.ts";
import { RISING_S, STANDING_READINGS } from "./still-flowing.ts";
import type { EngineState } from "./supply-state.ts";
import { purgeVolumeL, volumesWanted } from "./told.ts";
import { trendSlope } from "./trend.ts";
import { COLD_K, mostWarmingKPerS } from "./unseen-body.ts";

/** A value older than this is stale, s. */
const STALE_S = 300;

/** What the alarm conditions look at, for one drop at `t`. */
export function makeSnapshot(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
  t: number,
): StationSnapshot {
  const dropPlan = plan.drops[drop]!;
  const dropState = state.drops[drop]!;
  const { cylinder, filter } = state;
  const mode = modeOf(plan, state, drop);
  const figure = flowFigure(plan, state, drop, t);
  const known = figure.sigma <= MOST_SIGMA;
  const flow = known
    ? {
        meanLpm: figure.lpm,
        sigmaLpm: (figure.lpm * Math.max(-figure.lowLog, figure.highLog)) / 1.96,
      }
    : null;
  const content = contentFigure(plan, state, drop);
  const litresPerMol = 1000 / plan.gas.standardMolPerM3;
  const habit = state.habits[drop]!;
  const day = meanDayS(habit);
  const local = localTimeS(habit, plan.setup.timeZone, t);
  const line = hasLine(dropState, t);
  const target = dropPlan.demand?.targetLpm ?? null;
  let remaining: StationSnapshot["remainingMinutes"] = null;
  if (content !== null && state.reserve.since === null && (known || target !== null)) {
    const lpm = Math.max(known ? figure.lpm : 0, target ?? 0);
    const minutes = minutesFigure(content, lpm, known ? figure.sigma : 0.1);
    remaining = { median: minutes.median, sigma: minutes.sigma };
  }
  const perMol = 60 * litresPerMol;
  const leak = cylinderLeak(state.leak, 1 / perMol);
  const purge = state.purges[drop] ?? null;
  const job = state.jobs[drop] ?? null;
  const icing = icingNow(plan, state, drop, t, figure.lpm / 60 / litresPerMol);
  const watch = state.watches[drop]!;
  const node = state.nodes.find((entry) => entry.node === (dropPlan.node ?? plan.node));
  const silentSince = sinceOf(plan, state, drop) ?? node?.offlineSince ?? null;
  return {
    t,
    station: dropPlan.station,
    supply: plan.setup.supply,
    otherPlaces: plan.drops
      .filter((other) => other !== dropPlan)
      .map(({ station }) => ({ name: station.name ?? station.station, place: station.place })),
    localHour: (((local / 3600) % 24) + 24) % 24,
    mode,
    gasOnSince: dropState.on === true ? dropState.onSince : null,
    gasOffSince: dropState.on === false ? dropState.offSince : null,
    flow: mode === "flowing" ? flow : mode === "idle" ? { meanLpm: 0, sigmaLpm: 0 } : null,
    expectedFlow: mode === "flowing" ? null : flow,
    demand: dropPlan.demand,
    content:
      content === null
        ? null
        : {
            meanL: content.litres,
            sigmaL: Math.hypot(
              content.sigma,
              content.volumeSigma,
              (content.litres * (Math.exp(content.highLog) - Math.exp(content.lowLog))) / 3.92,
            ),
            usableL: content.usable,
            fullL: plan.fullMol * litresPerMol,
            liquid: cylinder.liquid,
          },
    remainingMinutes: remaining,
    usePerDayL: day === null || !known ? null : (day / 60) * figure.meanLpm,
    cylinderPa:
      isFresh(cylinder.readingT, t) && !isFaulty(state, drop, "cylinder-pressure")
        ? cylinder.readingPa
        : null,
    linePa: line && !isFaulty(state, drop, "line-pressure") ? dropState.linePa : null,
    cylinderK: isFresh(cylinder.wallT, t) ? cylinder.wallK : null,
    regulatorK: isFresh(dropState.regulatorT, t) ? dropState.regulatorK : null,
    ambientK: isFresh(dropState.ambientT, t)
      ? dropState.ambientK
      : filter.warm
        ? filter.x[ROOM]!
        : null,
    arc: dropState.arcT !== null && t - dropState.arcT < 120 ? dropState.arc : null,
    arcSince: dropState.arc === true ? dropState.arcSince : null,
    arcOffSince: dropState.arc === false ? dropState.arcOffSince : null,
    idleLine: line ? idleLine(plan, state, drop, t) : null,
    expectedLinePa:
      line && dropState.on === true
        ? dropPlan.tap === "hose"
          ? dropState.flowPa
          : (watch.body.warmPa ?? dropState.flowPa)
        : null,
    bodyForecastK: icing?.bodyK ?? null,
    leak:
      leak === null
        ? null
        : { meanLpm: leak.rate * perMol, sigmaLpm: leak.sigma * perMol, side: null },
    lastReDial: dropState.lastReDial,
    lastSwap: cylinder.lastSwap === null ? null : { t: cylinder.lastSwap },
    faults: state.faults
      .filter((f) => f.drop < 0 || f.drop === drop)
      .map(({ channel, fault, since }) => ({ channel, fault, since })),
    usualSpellS: usualSpell(state.spells[drop]!),
    quietHour: isQuietHour(habit, local),
    purge: purgeOf(purge, plan.cylinder.composition.O2 ?? 0),
    job:
      job === null
        ? null
        : {
            plannedArcMinutes: job.entry.plannedArcMinutes ?? null,
            gasless: job.entry.gasless === true,
            since: job.t,
            gasOnMinutesDone: job.gasOnS / 60,
          },
    supplyVoltage: dropState.supplyVoltage,
    node: {
      silentSince,
      clockWrong: node?.clockWrong ?? false,
      configError: node?.configError ?? null,
      plannedOff: silentAsPlanned(plan, drop, local - t + (silentSince ?? t), local),
    },
    lineUnsettled: line && lineUnsettled(dropPlan, dropState, t),
    hoseLetsNoneOut: hoseLetsNoneOut(plan, state, drop, t),
    indicated: indicated(plan, state, drop, t, figure, mode === "flowing"),
    dialTo: dialTo(plan, state, drop, t, figure, known),
    lastFlow: watch.lastFlow,
    belowHoldPressure: belowHold(plan, state, drop, t),
    reserveInUseSince: plan.setup.supply?.reserve ? state.reserve.since : null,
    backPressure: backPressureNow(plan, state, drop),
    gasDoubt: state.gasDoubt,
    icing: icing === null ? null : { probability: icing.probability, withinS: icing.withinS },
    calibrationDueT: dropPlan.calibrationDueT,
    units: plan.setup.site?.units,
    language: plan.setup.site?.language,
  };
}

/** A fall that the next reading does not settle is none of a gas-on, s. */
const FALL_SETTLES_S = 2;
/** Half-way to its rest a line is no needle turned and no hunting, share of the gap (common practice, no source). */
const HALF_WAY = 0.5;

/** Whether an idle line's newest reading leaves it open whether gas went on, or whether it ever went off. */
function lineUnsettled({ tap }: DropPlan, drop: DropState, t: number): boolean {
  const { on, offCount, offT, linePa, anchorPa, previous, lastSampleGap } = drop;
  if (on !== false || linePa === null) return false;
  if (tap !== "hose" && linePa < emptyLinePa) return false;
  const [before, now] = previous;
  const falls = before !== undefined && now !== undefined && now < before - risePa(drop);
  if (falls && lastSampleGap <= FALL_SETTLES_S) return true;
  if (offCount > 0 && anchorPa !== null && linePa < anchorPa && t - offT <= FALL_SETTLES_S)
    return true;
  const { offSince, flowPa, gapPa, meanCount } = drop;
  if (offSince === null || (t - offSince > RISING_S && meanCount >= STANDING_READINGS))
    return false;
  if (flowPa === null || gapPa === null) return false;
  return linePa < flowPa + HALF_WAY * gapPa;
}

function isFresh(at: number | null, t: number): boolean {
  return at !== null && t - at <= STALE_S;
}

function isFaulty(state: EngineState, drop: number, channel: string): boolean {
  return state.faults.some((f) => f.channel === channel && (f.drop < 0 || f.drop === drop));
}

function purgeOf(
  purge: EngineState["purges"][number],
  oxygenShare: number,
): StationSnapshot["purge"] {
  if (purge === null) return null;
  const { entry, t, usedL } = purge;
  const volumeL = purgeVolumeL(entry);
  const target = volumesWanted(entry, oxygenShare);
  return {
    since: t,
    volumes: target,
    volumesPassed: volumeL === null ? null : usedL / volumeL,
    targetVolumes: target,
    minutes: entry.minutes ?? null,
    gasOnS: purge.onS ?? 0,
  };
}

/**
 * Where heat alone should bring an idle line at the day's hottest, gauge Pa; null where that is not
 * known: no settled trend, a body that thaws, or a rise that heat does not explain.
 */
export function heatForecastPa(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
  t: number,
): number | null {
  const idle = idleLine(plan, state, drop, t);
  if (idle === null || idle.thawing) return null;
  const surelyPaPerS = idle.trendPaPerS - 1.645 * idle.trendSigmaPaPerS;
  return surelyPaPerS > idle.heatPaPerS ? null : idle.forecastPa;
}

/** Trend of an idle line against what heat explains (P/T of the trapped gas). */
function idleLine(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
  t: number,
): StationSnapshot["idleLine"] {
  const dropPlan = plan.drops[drop]!;
  const dropState = state.drops[drop]!;
  if (dropState.on !== false || dropState.linePa === null || dropState.bled) return null;
  const since = Math.max(dropState.offSince ?? 0, dropState.idleSince);
  if (dropState.linePa < 0.2e5 || t - since < 60) return null;
  const trend = trendSlope(dropState.lineTrend, Math.sqrt(dropState.noise));
  if (trend === null || trend.spanS < 30) return null;
  const absolute = levelPa(dropPlan, dropState).pa + dropPlan.atmospherePa;
  const room = dropState.ambientK ?? state.filter.x[WALL]!;
  const probe = probedK(dropState, t);
  const { unseenBody } = dropState;
  // A body that nobody measures is not taken as warm: after a cold run nothing is called harmless.
  const body = probe ?? room - unseenBody.belowK;
  const bodySlope = probe === null ? null : trendSlope(dropState.bodyTrend, 0.05);
  const roomSlope = trendSlope(state.cylinder.wallTrend, 0.05);
  const bodyRate = bodySlope === null ? 0 : Math.max(0, bodySlope.slope + bodySlope.sigma);
  const mayThaw = probe === null && t < unseenBody.thawsUntil;
  const warming = probe === null ? mostWarmingKPerS(unseenBody) : bodyRate;
  const roomRate = roomSlope === null ? 0 : Math.max(0, roomSlope.slope + roomSlope.sigma);
  // Most of the trapped gas lies in the hose at room temperature, some in the body.
  const heat = absolute * Math.max((0.75 * roomRate) / room + (0.25 * bodyRate) / body, 1e-7);
  const hottest = Math.max(room + 2, state.cylinder.dayMostK);
  return {
    since,
    trendPaPerS: trend.slope,
    trendSigmaPaPerS: trend.sigma,
    heatPaPerS: heat,
    thawing: mayThaw || body < room - COLD_K,
    ...(mayThaw ? {} : { thawPaPerS: (absolute * warming) / body }),
    forecastPa: absolute * (hottest / room) - dropPlan.atmospherePa,
  };
}
