/**
 * What a node is told once, in the file `provision` on its flash (JSON, written by the enrolment):
 * who it is, how it reaches the broker, and what hangs on which pin.
 */

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
}

type Raw = Record<string, unknown>;

function text(raw: Raw, name: string, missing: string[]): string {
  const value = raw[name];
  if (type(value) === "string" && value !== "") return value as string;
  missing.push(name);
  return "";
}

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
  };
}

/**
 * Reads the file's text. Returns the provision with "", or undefined with what to do about it, for
 * the serial console.
 */
export function readProvision(
  content: string | undefined,
  standard: Pins,
): LuaMultiReturn<[Provision | undefined, string]> {
  if (content === undefined) return $multi(undefined, "there is no file `provision`");
  let raw: Raw | undefined;
  const [done] = pcall(() => {
    raw = sjson.decode(content) as Raw;
  });
  if (!done || raw === undefined || type(raw) !== "table") {
    return $multi(undefined, "the file `provision` is not JSON");
  }
  const missing: string[] = [];
  const pins = type(raw.pins) === "table" ? (raw.pins as Raw) : {};
  const provision: Provision = {
    site: text(raw, "site", missing),
    node: text(raw, "node", missing),
    ssid: text(raw, "ssid", missing),
    password: optionalText(raw, "password") ?? "",
    host: text(raw, "host", missing),
    port: optionalNumber(raw, "port") ?? 1883,
    tls: raw.tls === true,
    authority: optionalText(raw, "authority"),
    user: optionalText(raw, "user") ?? "",
    secret: text(raw, "secret", missing),
    timeServer: optionalText(raw, "timeServer"),
    pins: readPins(pins, standard),
  };
  if (missing.length > 0) {
    return $multi(undefined, `the file \`provision\` lacks ${table.concat(missing, ", ")}`);
  }
  return $multi(provision, "");
}
