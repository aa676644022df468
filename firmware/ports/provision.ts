/**
 * What a node is told once, in the file `provision` on its flash (JSON, written by the enrolment):
 * who it is, how it reaches the broker, and what hangs on which pin. What a person told it on the
 * spot, in the file `place`, goes before.
 */
import { readPlace } from "../src/set-up/place.ts";
import { placeFile } from "../src/set-up/place-names.ts";
import type { Files } from "./chip.ts";

export interface Provision {
  site: string;
  node: string;
  ssid: string;
  password: string;
  host: string;
  port: number;
  /** True: TLS, where the chip has room for it. */
  tls: boolean;
  /** PEM of the broker's authority; ESP32 only. */
  authority: string | undefined;
  user: string;
  secret: string;
  timeServer: string | undefined;
  /** It lives on a battery: sleeps, and watches content only. */
  battery: boolean;
  /** Scale under the cylinder: `bridge` an HX711, `converter` the fourth input, "" none. */
  scale: string;
  pins: Pins;
}

export interface Pins {
  sda: number;
  scl: number;
  lamp: number;
  buzzer: number;
  cylinderProbe: number | undefined;
  regulatorProbe: number | undefined;
  arc: number | undefined;
  button: number | undefined;
  /** Switches the sensors' supply on a battery. */
  sensorPower: number | undefined;
  scaleClock: number | undefined;
  scaleData: number | undefined;
}

/** What the node knows of itself, and what it lacks. */
export interface Known {
  provision: Provision;
  enrolled: boolean;
  /** "" where it can start, else a sentence on what is missing. */
  why: string;
}

type Raw = Record<string, unknown>;

function optionalText(raw: Raw, name: string): string | undefined {
  const value = raw[name];
  return type(value) === "string" ? (value as string) : undefined;
}

function optionalNumber(raw: Raw, name: string): number | undefined {
  const value = raw[name];
  return type(value) === "number" ? (value as number) : undefined;
}

function readPins(raw: Raw, standard: Pins): Pins {
  return {
    sda: optionalNumber(raw, "sda") ?? standard.sda,
    scl: optionalNumber(raw, "scl") ?? standard.scl,
    lamp: optionalNumber(raw, "lamp") ?? standard.lamp,
    buzzer: optionalNumber(raw, "buzzer") ?? standard.buzzer,
    cylinderProbe: optionalNumber(raw, "cylinderProbe"),
    regulatorProbe: optionalNumber(raw, "regulatorProbe"),
    arc: optionalNumber(raw, "arc"),
    button: optionalNumber(raw, "button"),
    sensorPower: optionalNumber(raw, "sensorPower"),
    scaleClock: optionalNumber(raw, "scaleClock"),
    scaleData: optionalNumber(raw, "scaleData"),
  };
}

/** The JSON of the file `provision`; undefined where there is none or it is damaged, with why. */
function decode(content: string | undefined): LuaMultiReturn<[Raw | undefined, string]> {
  if (content === undefined) return $multi(undefined, "");
  let raw: Raw | undefined;
  const [done] = pcall(() => {
    raw = sjson.decode(content) as Raw;
  });
  if (!done || raw === undefined || type(raw) !== "table") {
    return $multi(undefined, "The file `provision` is not JSON. ");
  }
  return $multi(raw, "");
}

function first(told: string, filed: string | undefined): string {
  return told === "" ? (filed ?? "") : told;
}

/** Reads both files. Never fails: what is missing is said, and asked for in the set-up. */
export function knowPlace(files: Files, standard: Pins): Known {
  const [decoded, damage] = decode(files.read("provision"));
  const raw = decoded ?? {};
  const place = readPlace(files.read(placeFile));
  const pins = type(raw.pins) === "table" ? (raw.pins as Raw) : {};
  const site = first(place.site, optionalText(raw, "site"));
  const name = first(place.node, optionalText(raw, "node"));
  const toldPort = place.host === "" ? 0 : place.port;
  const told = place.network !== "";
  const provision: Provision = {
    site,
    node: name,
    ssid: first(place.network, optionalText(raw, "ssid")),
    password: told ? place.password : (optionalText(raw, "password") ?? ""),
    host: first(place.host, optionalText(raw, "host")),
    port: toldPort > 0 ? toldPort : (optionalNumber(raw, "port") ?? 1883),
    tls: raw.tls === true,
    authority: optionalText(raw, "authority"),
    user:
      place.secret === "" ? (optionalText(raw, "user") ?? `${site}/${name}`) : `${site}/${name}`,
    secret: first(place.secret, optionalText(raw, "secret")),
    timeServer: optionalText(raw, "timeServer"),
    battery: raw.battery === true,
    scale: optionalText(raw, "scale") ?? "",
    pins: readPins(pins, standard),
  };
  const missing: string[] = [];
  if (provision.site === "" || provision.node === "" || provision.secret === "") {
    missing.push("who it is (the code)");
  }
  const enrolled = missing.length === 0;
  if (provision.ssid === "") missing.push("its network");
  if (provision.host === "") missing.push("its gateway");
  const lacks = `The node does not know ${table.concat(missing, ", ")}.`;
  return { provision, enrolled, why: missing.length === 0 ? "" : damage + lacks };
}
