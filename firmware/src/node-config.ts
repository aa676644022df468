/**
 * The node's settings: what it does without any, and what the gateway's retained `config` message
 * may change. A message is checked as a whole before any of it counts.
 */
import { decodeObject, type JsonObject, numberMember, objectMember } from "./json.ts";

/** A pressure channel: its transducer, and what two-point calibration found. */
export interface Calibration {
  /** False where no such transducer is fitted. */
  fitted: boolean;
  /** Gauge pressure at 90 % of the supply, Pa. */
  rangePa: number;
  /** Gauge pressure = what the transducer says · gain + offset. */
  gain: number;
  offsetPa: number;
}

/** A scale under the cylinder: kg = (counts - lowReads) · kgPerCount + lowIsKg; 0: not calibrated. */
export interface ScaleCalibration {
  lowReads: number;
  lowIsKg: number;
  kgPerCount: number;
}

/** Seconds between measuring, and between sending. */
export interface BatteryPace {
  measureS: number;
  sendS: number;
}

export interface NodeConfig {
  revision: number;
  /** Seconds between rows, and between packs. */
  flowingS: number;
  idleS: number;
  idleWithoutLineS: number;
  packFlowingS: number;
  packIdleS: number;
  cylinder: Calibration;
  line: Calibration;
  scale: ScaleCalibration;
  /** Gauge Pa; 0 where no limit is set. */
  residualPa: number;
  lineLeastPa: number;
  lineMostPa: number;
  /** Whether the arc switch, where one is fitted, is listened to. */
  arc: boolean;
  lamp: boolean;
  buzzer: boolean;
  /** Pace on a battery, where the message tells one. */
  battery: BatteryPace | undefined;
}

export const standardBatteryPace: BatteryPace = { measureS: 900, sendS: 3600 };

function defaultCalibration(rangePa: number): Calibration {
  return { fitted: true, rangePa, gain: 1, offsetPa: 0 };
}

export function defaultConfig(): NodeConfig {
  return {
    revision: 0,
    flowingS: 1,
    idleS: 15,
    idleWithoutLineS: 5,
    packFlowingS: 2,
    packIdleS: 60,
    cylinder: defaultCalibration(25000000),
    line: defaultCalibration(1000000),
    scale: { lowReads: 0, lowIsKg: 0, kgPerCount: 0 },
    residualPa: 0,
    lineLeastPa: 0,
    lineMostPa: 0,
    arc: true,
    lamp: true,
    buzzer: true,
    battery: undefined,
  };
}

/** The first complaint about a message. */
interface Check {
  why: string;
}

/** One object of the message, its path with a dot behind it, and where complaints go. */
interface Part {
  object: JsonObject;
  name: string;
  check: Check;
}

function complain(part: Part, name: string, why: string): void {
  if (part.check.why === "") part.check.why = `${part.name}${name} ${why}`;
}

function numberIn(part: Part, name: string, least: number, most: number, fallback: number): number {
  if (part.object[name] === undefined) return fallback;
  const value = numberMember(part.object, name);
  if (value === undefined) {
    complain(part, name, "is not a number");
    return fallback;
  }
  if (value >= least && value <= most) return value;
  complain(part, name, string.format("must lie between %d and %d", least, most));
  return fallback;
}

function flagIn(part: Part, name: string, fallback: boolean): boolean {
  const value = part.object[name];
  if (value === undefined) return fallback;
  if (value === true || value === false) return value;
  complain(part, name, "must be true or false");
  return fallback;
}

function partOf(whole: Part, name: string): Part | undefined {
  if (whole.object[name] === undefined) return undefined;
  const object = objectMember(whole.object, name);
  if (object !== undefined) return { object, name: `${whole.name}${name}.`, check: whole.check };
  complain(whole, name, "must be an object");
  return undefined;
}

function readCalibration(whole: Part, name: string, into: Calibration, most: number): void {
  const part = partOf(whole, name);
  if (part === undefined) return;
  into.fitted = flagIn(part, "fitted", true);
  into.rangePa = numberIn(part, "rangePa", 10000, most, into.rangePa);
  // The uncalibrated node showed `reads`, the reference gauge said `is`.
  const lowReadsPa = numberIn(part, "lowReadsPa", -most, most, 0);
  const lowIsPa = numberIn(part, "lowIsPa", -100000, most, 0);
  const highReadsPa = numberIn(part, "highReadsPa", 0, most, into.rangePa);
  const highIsPa = numberIn(part, "highIsPa", 0, most, into.rangePa);
  const span = highIsPa - lowIsPa;
  const readsSpan = highReadsPa - lowReadsPa;
  if (span < into.rangePa * 0.2) {
    complain(part, "highIsPa", "is too close to lowIsPa: calibrate over a fifth of the range");
  } else if (readsSpan < span * 0.8 || readsSpan > span * 1.25) {
    complain(part, "highReadsPa", "differs by more than a fifth from highIsPa");
  } else {
    into.gain = span / readsSpan;
    into.offsetPa = lowIsPa - lowReadsPa * into.gain;
  }
}

const mostCounts = 8388607;

function readScaleCalibration(whole: Part, into: ScaleCalibration): void {
  const part = partOf(whole, "scale");
  if (part === undefined) return;
  into.lowReads = numberIn(part, "lowReads", -mostCounts, mostCounts, 0);
  into.lowIsKg = numberIn(part, "lowIsKg", 0, 500, 0);
  const highReads = numberIn(part, "highReads", -mostCounts, mostCounts, 0);
  const highIsKg = numberIn(part, "highIsKg", 0, 500, 0);
  const kg = highIsKg - into.lowIsKg;
  const counts = highReads - into.lowReads;
  if (kg < 5) complain(part, "highIsKg", "must be at least 5 kg above lowIsKg");
  else if (counts < 100 && counts > -100) {
    complain(part, "highReads", "is too close to lowReads: does the scale see the load?");
  } else into.kgPerCount = kg / counts;
}

/**
 * Checks a `config` message. Returns the whole new configuration with "", or undefined with the
 * first complaint, and the message's revision (0 where it has none).
 */
export function readConfig(text: string): LuaMultiReturn<[NodeConfig | undefined, string, number]> {
  const [message, why] = decodeObject(text);
  if (message === undefined) return $multi(undefined, `not JSON: ${why}`, 0);
  const config = defaultConfig();
  const top: Part = { object: message, name: "", check: { why: "" } };
  config.revision = numberIn(top, "revision", 1, 2147483000, 0);
  if (config.revision === 0) complain(top, "revision", "is missing");
  const pace = partOf(top, "pace");
  if (pace !== undefined) {
    config.flowingS = numberIn(pace, "flowingS", 1, 10, config.flowingS);
    config.idleS = numberIn(pace, "idleS", 1, 300, config.idleS);
    config.idleWithoutLineS = numberIn(pace, "idleWithoutLineS", 1, 300, config.idleWithoutLineS);
    config.packFlowingS = numberIn(pace, "packFlowingS", 1, 60, config.packFlowingS);
    config.packIdleS = numberIn(pace, "packIdleS", 1, 600, config.packIdleS);
  }
  const calibration = partOf(top, "calibration");
  if (calibration !== undefined) {
    readCalibration(calibration, "cylinder", config.cylinder, 45000000);
    readCalibration(calibration, "line", config.line, 10000000);
    readScaleCalibration(calibration, config.scale);
  }
  const limits = partOf(top, "limits");
  if (limits !== undefined) {
    config.residualPa = numberIn(limits, "residualPa", 0, 45000000, 0);
    config.lineLeastPa = numberIn(limits, "lineLeastPa", 0, 10000000, 0);
    config.lineMostPa = numberIn(limits, "lineMostPa", 0, 10000000, 0);
    if (config.lineMostPa > 0 && config.lineMostPa <= config.lineLeastPa) {
      complain(limits, "lineMostPa", "must be greater than lineLeastPa");
    }
  }
  const arc = objectMember(message, "arc");
  config.arc =
    arc === undefined
      ? flagIn(top, "arc", true)
      : flagIn({ object: arc, name: "arc.", check: top.check }, "fitted", true);
  const outputs = partOf(top, "outputs");
  if (outputs !== undefined) {
    config.lamp = flagIn(outputs, "lamp", true);
    config.buzzer = flagIn(outputs, "buzzer", true);
  }
  const battery = partOf(top, "battery");
  if (battery !== undefined) {
    config.battery = {
      measureS: numberIn(battery, "measureS", 60, 1800, standardBatteryPace.measureS),
      sendS: numberIn(battery, "sendS", 60, 86400, standardBatteryPace.sendS),
    };
  }
  if (top.check.why !== "") return $multi(undefined, top.check.why, config.revision);
  return $multi(config, "", config.revision);
}
