import type { FlowDeviceDocument } from "../documents/hardware.ts";
import type { StationDocument } from "../documents/station.ts";
import { PSI_PA } from "../units/factors.ts";
import type { BenchResult } from "./fit-device.ts";

/** What a dial card is made from. */
export interface CardInput {
  station: StationDocument;
  result: BenchResult;
  /** Serial number of the flow device or regulator. */
  serial?: string;
  /** Behind the QR code; the code is left out without it. */
  stationUrl?: string;
  /** Day of the test, as written. */
  date?: string;
  /** Calibrated meter and its certificate. */
  meter?: string;
}

/** One line of the card's table. */
export interface CardLine {
  cylinder: string;
  /** Null where the target cannot be reached. */
  reading: string | null;
  interval: string;
  /** Advice where there is no reading, or a caution beside it. */
  remark: string;
}

/** All words of a card, before any drawing. */
export interface CardContent {
  /** Name of the whole document, as a reader's window shows it. */
  documentTitle: string;
  title: string;
  gas: string;
  target: string;
  cylinderHead: string;
  readingHead: string;
  /** Over the intervals. */
  withinHead: string;
  lines: CardLine[];
  facts: [label: string, text: string][];
  /** Null where the test gives no reason for one. */
  warning: string | null;
  readAt: FloatPart | null;
  readAtText: string;
  voidText: string;
  caution: string;
}

export type FloatPart = "float-top" | "float-centre" | "float-bottom" | "float-widest";

const floatParts: Record<FloatPart, string> = {
  "float-top": "Read at the TOP of the float",
  "float-centre": "Read at the CENTRE of the float",
  "float-bottom": "Read at the BOTTOM of the float",
  "float-widest": "Read at the WIDEST part of the float",
};

const notStated = "not stated";

/** Puts a bench result into the words of a card, in the unit printed on the device. */
export function cardContent(input: CardInput): CardContent {
  const { station, result } = input;
  const device = station.flowDevice;
  if (!device) throw new Error("a dial card needs a flow device: the station has none");
  const { unit } = result.device;
  const float = device.kind === "variable-area" ? (device.readAt ?? null) : null;
  return {
    documentTitle: `Dial card, ${station.name ?? station.station}`,
    title: station.name ?? station.station,
    gas: result.device.gas,
    target:
      result.target.reading === null
        ? "No target flow"
        : `True flow wanted: ${reading(result.target.reading, unit)} ${unit}`,
    cylinderHead: "Cylinder shows",
    readingHead:
      device.kind === "variable-area" ? `Set float to (${unit})` : `Set dial to (${unit})`,
    withinHead: "right within",
    lines: result.card.map((entry) => ({
      cylinder: cylinderText(entry.cylinderBar, unit),
      reading: entry.dialTo === null ? null : reading(entry.dialTo, unit),
      interval:
        entry.dialTo === null
          ? ""
          : `${reading(entry.low ?? entry.dialTo, unit)} to ${reading(entry.high ?? entry.dialTo, unit)}`,
      remark: entry.why ?? entry.note ?? "",
    })),
    facts: [
      ["Station", `${station.site} / ${station.station}`],
      ["Device", `${kindText(device)}, serial ${input.serial ?? notStated}`],
      ["Gas", result.device.gas],
      ["Scale", scaleText(device)],
      ["Test", `${input.date ?? `date ${notStated}`}; meter: ${input.meter ?? notStated}`],
    ],
    warning: warningOf(result),
    readAt: float,
    readAtText:
      device.kind === "variable-area"
        ? float === null
          ? "Where on the float to read: not stated. See the tube."
          : `${floatParts[float]}, tube upright`
        : "Read the needle while gas flows",
    voidText: "VOID if regulator, tube, gas or torch changes.",
    caution:
      "Set with gas flowing. Shielding gas displaces air: ventilate, and stay out of confined spaces without a check of the air. Local rules come first.",
  };
}

/**
 * The day of a test as its reader writes days, with the month as a word: figures alone are read
 * two ways. What is no date of RFC 3339 stays as it was typed.
 */
export function cardDate(date: string, locale: string): string {
  if (!/^\d{4}-\d\d-\d\d$/.test(date)) return date;
  const day = new Date(`${date}T00:00:00Z`);
  if (Number.isNaN(day.getTime())) return date;
  const format = new Intl.DateTimeFormat(locale, { dateStyle: "long", timeZone: "UTC" });
  return format.format(day);
}

/**
 * A card in another language.
 *
 * @param tell says an English sentence of the core in the reader's language
 */
export function tellCard(content: CardContent, tell: (text: string) => string): CardContent {
  return {
    ...content,
    documentTitle: tell(content.documentTitle),
    target: tell(content.target),
    cylinderHead: tell(content.cylinderHead),
    readingHead: tell(content.readingHead),
    withinHead: tell(content.withinHead),
    lines: content.lines.map((line) => ({
      cylinder: line.cylinder,
      reading: line.reading === null ? null : tell(line.reading),
      interval: line.interval === "" ? "" : tell(line.interval),
      remark: line.remark === "" ? "" : tell(line.remark),
    })),
    facts: content.facts.map(([label, text]) => [
      tell(label),
      label === "Station" || label === "Gas" ? text : tell(text),
    ]),
    warning: content.warning === null ? null : tell(content.warning),
    readAtText: tell(content.readAtText),
    voidText: tell(content.voidText),
    caution: tell(content.caution),
  };
}

function warningOf(result: BenchResult): string | null {
  if (result.consistent === true) return null;
  return result.consistent === null
    ? `Test incomplete: ${result.why}.`
    : `Test has open questions: ${result.why}.`;
}

/** As finely as a person can set it: whole CFH from 10 up, tenths of L/min. */
function reading(value: number, unit: "CFH" | "L/min"): string {
  return value.toFixed(unit === "CFH" && value >= 10 ? 0 : 1);
}

function cylinderText(bar: number, unit: "CFH" | "L/min"): string {
  return unit === "CFH" ? `${Math.round((bar * 1e5) / PSI_PA)} psi` : `${Math.round(bar)} bar`;
}

function kindText(device: FlowDeviceDocument): string {
  if (device.kind === "variable-area") return "float tube";
  return device.kind === "orifice-gauge" ? "flow gauge (orifice)" : "flow meter";
}

function scaleText(device: FlowDeviceDocument): string {
  const range =
    device.scaleMin !== undefined && device.scaleMax !== undefined
      ? `${device.scaleMin} to ${device.scaleMax} ${device.readingUnit}`
      : device.readingUnit;
  if (device.kind === "metered") return range;
  const gas = Object.keys(device.scaleGas).join("+");
  if (device.kind === "orifice-gauge") return `${range}, ${gas}`;
  const pressure =
    device.readingUnit === "CFH"
      ? `${Math.round((device.scaleBar * 1e5) / PSI_PA)} psi`
      : `${device.scaleBar} bar`;
  return `${range}, ${gas} at ${pressure}`;
}
