import { type MessageResult, refuse } from "./dead-letter-reasons.ts";
import { isRelativeTime, parseJson, resolveSenml, type SenmlRecord } from "./senml.ts";
import { faultSuffix, faultWord, recordName, senmlUnit } from "./wire-names.ts";

/** Sample packs of a node: SenML checked against the record table of the wire contract. */

/** Largest payload that the gateway takes, bytes. */
export const payloadLimitBytes = 8192;

/** A sample as sent: absolute Unix seconds, or seconds from now where `relative`. */
export interface SentSample {
  channel: string;
  time: number;
  relative: boolean;
  value: number | boolean | string;
}

/** A validated pack before its relative times are placed. */
export interface SentPack {
  site: string;
  node: string;
  /** EUI of the base name, lower-case hex; null where the base name carries none. */
  hardware: string | null;
  boot: number | null;
  seq: number | null;
  /** Seconds since boot at `time` (which may be relative); null where the node does not say. */
  uptime: { valueS: number; time: number; relative: boolean } | null;
  thinned: boolean;
  samples: SentSample[];
}

interface NumberChannel {
  unit: string;
  least: number;
  most: number;
}

/** Limits beyond which no sensor of this trade can be telling the truth; gauge Pa, °C, kg, V. */
const numberChannels: Readonly<Record<string, NumberChannel>> = {
  [recordName.cylinderPressure]: { unit: senmlUnit.pascal, least: -5e5, most: 1e8 },
  [recordName.linePressure]: { unit: senmlUnit.pascal, least: -5e5, most: 1e8 },
  [recordName.cylinderTemperature]: { unit: senmlUnit.celsius, least: -100, most: 200 },
  [recordName.regulatorTemperature]: { unit: senmlUnit.celsius, least: -100, most: 200 },
  [recordName.ambientTemperature]: { unit: senmlUnit.celsius, least: -100, most: 200 },
  [recordName.cylinderMass]: { unit: senmlUnit.kilogram, least: -100, most: 20_000 },
  [recordName.supplyVoltage]: { unit: senmlUnit.volt, least: 0, most: 100 },
};

const channelsWithFault: readonly string[] = [...Object.keys(numberChannels), recordName.arc];
const faultWords: readonly string[] = Object.values(faultWord);

const bootLimit = 2_147_483_647;

/**
 * Reads the payload of a `samples` topic.
 * Errors: those of `parseJson`, `resolveSenml` and `checkSamplePack`, and `payload-too-large`.
 */
export function readSamplePack(
  text: string,
  topic: { site: string; node: string },
): MessageResult<SentPack> {
  const json = parseJson(text);
  return json.ok ? checkSamplePack(json.value, topic) : json;
}

/**
 * Checks a parsed pack. Where `topic` is null (a bare pack in a replay file), the base name names
 * the node, and `node` stays empty where it does not.
 */
export function checkSamplePack(
  input: unknown,
  topic: { site: string; node: string } | null,
): MessageResult<SentPack> {
  const resolved = resolveSenml(input);
  if (!resolved.ok) return resolved;
  const pack: SentPack = {
    site: topic?.site ?? "",
    node: topic?.node ?? "",
    hardware: null,
    boot: null,
    seq: null,
    uptime: null,
    thinned: false,
    samples: [],
  };
  for (const record of resolved.value) {
    const fault = takeRecord(pack, record, topic !== null);
    if (fault !== null) return fault;
  }
  return { ok: true, value: pack };
}

type Refusal = ReturnType<typeof refuse>;

const hardwareName = /^urn:dev:mac:([0-9A-Fa-f]{12}|[0-9A-Fa-f]{16})(?:_[A-Za-z0-9\-._]*)?:/;
const placeName = /^([^/:]+)\/([^/:]+):/;

function takeRecord(pack: SentPack, record: SenmlRecord, topicKnown: boolean): Refusal | null {
  const hardware = hardwareName.exec(record.name);
  const place = hardware ? null : placeName.exec(record.name);
  const channel = record.name.slice((hardware ?? place)?.[0].length ?? 0);
  if (hardware) {
    const address = hardware[1]!.toLowerCase();
    if (pack.hardware !== null && pack.hardware !== address) {
      return refuse("contradictory-pack", "", "the pack names two hardware addresses");
    }
    pack.hardware = address;
  } else if (place) {
    const [, site, node] = place as unknown as [string, string, string];
    if (pack.node === "" && !topicKnown) {
      pack.site = site;
      pack.node = node;
    } else if (site !== pack.site || node !== pack.node) {
      return refuse(
        "base-name-contradicts-topic",
        "",
        `the base name says ${site}/${node}, the topic ${pack.site}/${pack.node}`,
      );
    }
  } else if (channel.includes(":")) {
    return refuse(
      "base-name-contradicts-topic",
      "",
      `the base name of "${record.name.slice(0, 80)}" is neither <site>/<node>: nor urn:dev:mac:…:`,
    );
  }
  return takeMeta(pack, record, channel) ?? takeSample(pack, record, channel);
}

function takeMeta(pack: SentPack, record: SenmlRecord, channel: string): Refusal | null {
  switch (channel) {
    case recordName.boot:
    case recordName.seq: {
      const key = channel === recordName.boot ? "boot" : "seq";
      const most = key === "boot" ? bootLimit : Number.MAX_SAFE_INTEGER;
      const value = record.value;
      if (typeof value !== "number") return wrongType(channel, "a number", value);
      if (!Number.isSafeInteger(value) || value < 0 || value > most) {
        return refuse("impossible-value", channel, `is ${value}, not a whole number from 0 on`);
      }
      if (pack[key] !== null && pack[key] !== value) {
        return refuse("contradictory-pack", channel, `is ${pack[key]} and ${value} in one pack`);
      }
      pack[key] = value;
      return null;
    }
    case recordName.uptime: {
      const value = record.value;
      if (typeof value !== "number") return wrongType(channel, "a number", value);
      if (value < 0) return refuse("impossible-value", channel, `is ${value} s, below 0`);
      if (pack.uptime !== null && pack.uptime.valueS !== value) {
        return refuse("contradictory-pack", channel, "stands twice in one pack");
      }
      pack.uptime = { valueS: value, time: record.time, relative: isRelativeTime(record.time) };
      return null;
    }
    case recordName.thinned: {
      if (typeof record.value !== "boolean")
        return wrongType(channel, "true or false", record.value);
      pack.thinned ||= record.value;
      return null;
    }
    default:
      return null;
  }
}

const metaChannels: readonly string[] = [
  recordName.boot,
  recordName.seq,
  recordName.uptime,
  recordName.thinned,
];

function takeSample(pack: SentPack, record: SenmlRecord, channel: string): Refusal | null {
  if (metaChannels.includes(channel)) return null;
  const { value, unit, time } = record;
  const numeric = numberChannels[channel];
  if (numeric) {
    if (typeof value !== "number") return wrongType(channel, "a number", value);
    if (unit !== numeric.unit) {
      return refuse("wrong-unit", channel, `is in ${unit ?? "no unit"}, not in ${numeric.unit}`);
    }
    if (value < numeric.least || value > numeric.most) {
      return refuse("impossible-value", channel, `is ${value} ${numeric.unit}`);
    }
  } else if (channel === recordName.arc) {
    if (typeof value !== "boolean") return wrongType(channel, "true or false", value);
  } else if (
    channel.endsWith(faultSuffix) &&
    channelsWithFault.includes(channel.slice(0, -faultSuffix.length))
  ) {
    if (typeof value !== "string") return wrongType(channel, "a fault word", value);
    if (!faultWords.includes(value)) {
      return refuse("impossible-value", channel, `"${value.slice(0, 40)}" is no fault word`);
    }
  } else {
    return refuse("unknown-record", "", `"${channel.slice(0, 80)}" is no record of the contract`);
  }
  pack.samples.push({ channel, time, relative: isRelativeTime(time), value });
  return null;
}

function wrongType(channel: string, wanted: string, value: unknown): Refusal {
  return refuse("wrong-type", channel, `is ${typeof value}, not ${wanted}`);
}

/** Identity of a pack: hardware address where known, else node; boot; seq. Null where it has none. */
export function packIdentity(pack: SentPack): string | null {
  if (pack.boot === null || pack.seq === null) return null;
  return `${pack.hardware ?? `${pack.site}/${pack.node}`}|${pack.boot}|${pack.seq}`;
}
