/**
 * Packs of samples. A pack waits in a short text form of our own, about a fifth of its SenML, and
 * becomes SenML (RFC 8428) when it is sent. The same text always gives the same SenML, so that a
 * pack sent twice has one content.
 *
 * Short form: `head|row|row…`, fields separated by `;`, a row `dt,line,cylinder,arc` with `dt` in
 * milliseconds before the pack's moment, an empty field for what was not measured, and `!` after a
 * row that thinning keeps.
 */
import {
  faultSuffix,
  nodePackLimitBytes,
  recordName,
  senmlUnit,
} from "../../shared-core/messages/wire-names.ts";
import { faultNames } from "./measure.ts";
import { elapsedMs, secondsText } from "./moment.ts";
import type { Ports } from "./ports.ts";

/** Most rows of a pack; long names, many probes and faults leave room for fewer. */
export const rowsPerPack = 7;

// Longest records, with their braces and comma, for times of up to 99,999 s before the pack.
const lineBytes = 58;
const cylinderBytes = 64;
const arcBytes = 38;
const temperatureBytes = 58;
const faultBytes = 66;
const massBytes = 46;
// What is said once: base time, boot, seq, uptime, supply, thinned, brackets.
const onceBytes = 205;

/** Bytes at most that a row adds to a SenML pack. */
export function rowBytes(hasLine: boolean, hasCylinder: boolean, saysArc: boolean): number {
  return (hasLine ? lineBytes : 0) + (hasCylinder ? cylinderBytes : 0) + (saysArc ? arcBytes : 0);
}

/** Bytes at most of what a SenML pack says once. */
export function headBytes(
  nameBytes: number,
  temperatures: number,
  hasMass: boolean,
  faults: string,
): number {
  let bytes = onceBytes + nameBytes + temperatures * temperatureBytes + (hasMass ? massBytes : 0);
  for (let index = 1; index <= faults.length; index++) {
    if (string.sub(faults, index, index) !== "0") bytes += faultBytes;
  }
  return bytes;
}

/** True where another row of any kind may not fit beside `bytes`. */
export function isPackFull(rows: number, bytes: number): boolean {
  return rows >= rowsPerPack || bytes + lineBytes + cylinderBytes + arcBytes >= nodePackLimitBytes;
}

/** RFC 9039: an EUI-48 is written as EUI-64, `ff:fe` in the middle. Without one the topic's names. */
export function baseNameOf(ports: Ports): string {
  const [first, last] = string.match(ports.hardwareAddress, "^(%x%x%x%x%x%x)(%x%x%x%x%x%x)$");
  return first === undefined || last === undefined
    ? `${ports.site}/${ports.node}:`
    : `urn:dev:mac:${first}fffe${last}:`;
}

/** Channels of the fault digits, in their order. */
const faultChannels: readonly string[] = [
  recordName.linePressure,
  recordName.cylinderPressure,
  recordName.cylinderTemperature,
  recordName.regulatorTemperature,
  recordName.ambientTemperature,
  recordName.cylinderMass,
];

/** What one pack says once. Times are the pack's moment; temperatures °C as text, "" if unknown. */
export interface PackHead {
  boot: number;
  seq: number;
  /** Unix time at the pack's moment; seconds 0 where the node has no clock yet. */
  unixS: number;
  unixMs: number;
  uptimeS: number;
  uptimeMs: number;
  /** How often thinning has halved it, 0 … 9. */
  thinned: number;
  supplyMv: number;
  cylinderC: string;
  regulatorC: string;
  ambientC: string;
  /** One digit a channel, as in `faultNames`. */
  faults: string;
  /** Gross, kg; "" where no scale is fitted. */
  massKg: string;
}

export function headText(head: PackHead): string {
  return string.format(
    "%d;%d;%d;%d;%d;%d;%d;%d;%s;%s;%s;%s%s",
    head.boot,
    head.seq,
    head.unixS,
    head.unixMs,
    head.uptimeS,
    head.uptimeMs,
    head.thinned,
    head.supplyMv,
    head.cylinderC,
    head.regulatorC,
    head.ambientC,
    head.faults,
    head.massKg === "" ? "" : `;${head.massKg}`,
  );
}

/** Fields of `text` between single-character separators; an empty field counts. */
export function fieldsOf(text: string, separator: string): string[] {
  const fields: string[] = [];
  for (const [field] of string.gmatch(text + separator, `([^${separator}]*)${separator}`)) {
    fields.push(field);
  }
  return fields;
}

function whole(text: string): number {
  return tonumber(text) ?? 0;
}

/** Reads a head back; undefined where the text is damaged. */
export function readHead(text: string): PackHead | undefined {
  const [sound] = string.find(
    text,
    "^%d+;%d+;%d+;%d+;%d+;%d+;%d;%d+;[^;]*;[^;]*;[^;]*;%d+;?[^;]*$",
  );
  if (sound === undefined) return undefined;
  const fields = fieldsOf(text, ";");
  return {
    boot: whole(fields[0]),
    seq: whole(fields[1]),
    unixS: whole(fields[2]),
    unixMs: whole(fields[3]),
    uptimeS: whole(fields[4]),
    uptimeMs: whole(fields[5]),
    thinned: whole(fields[6]),
    supplyMv: whole(fields[7]),
    cylinderC: fields[8],
    regulatorC: fields[9],
    ambientC: fields[10],
    faults: fields[11],
    massKg: fields.length > 12 ? fields[12] : "",
  };
}

/** Boot and sequence number of a pack's short form; zeros where it is damaged. */
export function packKey(text: string): LuaMultiReturn<[number, number]> {
  const [boot, seq] = string.match(text, "^(%d+);(%d+);");
  return $multi(whole(boot ?? "0"), whole(seq ?? "0"));
}

function timeText(milliseconds: number): string {
  if (milliseconds <= 0) return "0";
  const seconds = Math.floor(milliseconds / 1000);
  return `-${secondsText(seconds, milliseconds - seconds * 1000)}`;
}

/** `"n":…` of a record with a value, its time as an offset where not 0. */
function valueRecord(name: string, unit: string, value: string, time: string): string {
  const at = time === "0" ? "" : `,"t":${time}`;
  const withUnit = unit === "" ? "" : `,"u":"${unit}"`;
  return `"n":"${name}"${withUnit},"v":${value}${at}`;
}

function addRows(records: string[], rows: readonly string[]): void {
  let arcSaid = "";
  for (let index = 1; index < rows.length; index++) {
    const [dt, line, cylinder, arc] = string.match(rows[index], "^(%d+),(-?%d*),(-?%d*),(%d?)");
    if (dt !== undefined) {
      const time = timeText(whole(dt));
      if (line !== undefined && line !== "") {
        records.push(valueRecord(recordName.linePressure, senmlUnit.pascal, line, time));
      }
      if (cylinder !== undefined && cylinder !== "") {
        records.push(valueRecord(recordName.cylinderPressure, senmlUnit.pascal, cylinder, time));
      }
      if (arc !== undefined && arc !== "" && arc !== arcSaid) {
        arcSaid = arc;
        const at = time === "0" ? "" : `,"t":${time}`;
        records.push(`"n":"${recordName.arc}","vb":${arc === "1" ? "true" : "false"}${at}`);
      }
    }
  }
}

function addTemperature(records: string[], name: string, text: string): void {
  if (text !== "") records.push(valueRecord(name, senmlUnit.celsius, text, "0"));
}

/**
 * SenML JSON of a pack's short form; "" where the text is damaged. `baseName` ends with a colon.
 * Rows come first, then what is said once, at the pack's moment: records stay in order of time.
 */
export function senmlOf(text: string, baseName: string): string {
  const rows = fieldsOf(text, "|");
  const head = readHead(rows[0]);
  if (head === undefined) return "";
  const records: string[] = [];
  addRows(records, rows);
  for (let index = 0; index < faultChannels.length; index++) {
    const fault = whole(string.sub(head.faults, index + 1, index + 1));
    if (fault > 0) {
      records.push(`"n":"${faultChannels[index]}${faultSuffix}","vs":"${faultNames[fault]}"`);
    }
  }
  addTemperature(records, recordName.cylinderTemperature, head.cylinderC);
  addTemperature(records, recordName.regulatorTemperature, head.regulatorC);
  addTemperature(records, recordName.ambientTemperature, head.ambientC);
  if (head.massKg !== "") {
    records.push(valueRecord(recordName.cylinderMass, senmlUnit.kilogram, head.massKg, "0"));
  }
  if (head.supplyMv > 0) {
    const volts = secondsText(
      Math.floor(head.supplyMv / 1000),
      head.supplyMv - Math.floor(head.supplyMv / 1000) * 1000,
    );
    records.push(valueRecord(recordName.supplyVoltage, senmlUnit.volt, volts, "0"));
  }
  records.push(valueRecord(recordName.boot, "", string.format("%d", head.boot), "0"));
  records.push(valueRecord(recordName.seq, "", string.format("%d", head.seq), "0"));
  const uptime = secondsText(head.uptimeS, head.uptimeMs);
  records.push(valueRecord(recordName.uptime, "", uptime, "0"));
  if (head.thinned > 0) records.push(`"n":"${recordName.thinned}","vb":true`);
  const baseTime = head.unixS === 0 ? "" : `"bt":${secondsText(head.unixS, head.unixMs)},`;
  return `[{"bn":"${baseName}",${baseTime}${table.concat(records, "},{")}}]`;
}

function shiftRow(row: string, byMs: number): string {
  const [dt, rest] = string.match(row, "^(%d+)(.*)$");
  return string.format("%d%s", whole(dt ?? "0") + byMs, rest ?? "");
}

function isKept(row: string): boolean {
  return string.sub(row, -1) === "!";
}

/** Every second row of a pack leaves, the rows of an edge last. */
function halve(rows: readonly string[]): string[] {
  const target = Math.max(1, Math.floor((rows.length - 1) / 2));
  const left: string[] = [];
  let odd = false;
  for (let index = 1; index < rows.length; index++) {
    odd = !odd;
    if (isKept(rows[index]) || (odd && left.length < target)) left.push(rows[index]);
  }
  while (left.length > Math.max(target, 3)) table.remove(left, 2);
  return left;
}

/** How often a pack has been halved. */
export function thinningOf(text: string): number {
  const [level] = string.match(text, "^%d+;%d+;%d+;%d+;%d+;%d+;(%d)");
  return whole(level ?? "0");
}

/** A pack with about half its rows, marked as thinned. */
export function thinPack(text: string): string {
  const rows = fieldsOf(text, "|");
  const head = readHead(rows[0]);
  if (head === undefined || rows.length < 3) return text;
  head.thinned = Math.min(9, head.thinned + 1);
  return `${headText(head)}|${table.concat(halve(rows), "|")}`;
}

/** Bytes at most of a short form's SenML. */
function bytesAtMost(rows: readonly string[], head: PackHead, nameBytes: number): number {
  const temperatures =
    (head.cylinderC === "" ? 0 : 1) +
    (head.regulatorC === "" ? 0 : 1) +
    (head.ambientC === "" ? 0 : 1);
  let bytes = headBytes(nameBytes, temperatures, head.massKg !== "", head.faults);
  let arcSaid: string | undefined = "";
  for (let index = 1; index < rows.length; index++) {
    const [, line, cylinder, arc] = string.match(rows[index], "^(%d+),(-?%d*),(-?%d*),(%d?)");
    bytes += rowBytes(line !== "", cylinder !== "", arc !== arcSaid);
    arcSaid = arc;
  }
  return bytes;
}

/**
 * Two neighbouring packs as one with the later one's number, where that loses nothing: same boot,
 * same faults, rows that fit together. Undefined otherwise.
 */
export function joinPacks(earlier: string, later: string, nameBytes: number): string | undefined {
  const rows = fieldsOf(earlier, "|");
  const laterRows = fieldsOf(later, "|");
  const head = readHead(rows[0]);
  const laterHead = readHead(laterRows[0]);
  if (head === undefined || laterHead === undefined) return undefined;
  const fits = rows.length + laterRows.length - 2 <= rowsPerPack;
  if (!fits || head.boot !== laterHead.boot || head.faults !== laterHead.faults) return undefined;
  const clocksDiffer = (head.unixS === 0) !== (laterHead.unixS === 0);
  if (clocksDiffer) return undefined;
  const apart = elapsedMs(head.uptimeS, head.uptimeMs, laterHead.uptimeS, laterHead.uptimeMs);
  if (apart < 0 || apart >= 20000000) return undefined;
  laterHead.thinned = Math.max(laterHead.thinned, head.thinned);
  const joined: string[] = [headText(laterHead)];
  for (let index = 1; index < rows.length; index++) joined.push(shiftRow(rows[index], apart));
  for (let index = 1; index < laterRows.length; index++) joined.push(laterRows[index]);
  if (bytesAtMost(joined, laterHead, nameBytes) >= nodePackLimitBytes) return undefined;
  return table.concat(joined, "|");
}
