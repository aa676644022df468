/**
 * A small JSON reader (RFC 8259) for what the gateway sends. Strings come back with ASCII only
 * (anything else becomes "?"), null as if the member were absent, a number too long for a 32-bit
 * float as its whole part.
 */

/** Objects and arrays are both tables; an array counts from 0. */
export interface JsonObject {
  [name: string]: JsonValue | undefined;
}
export type JsonValue = string | number | boolean | JsonObject;

const depthLimit = 8;
const lengthLimit = 4096;

interface Reader {
  text: string;
  at: number;
  why: string;
}

function fail(reader: Reader, why: string): undefined {
  if (reader.why === "") reader.why = string.format("%s at %d", why, reader.at);
  return undefined;
}

function skipBlanks(reader: Reader): string {
  const [, last] = string.find(reader.text, "^[ \t\r\n]*", reader.at);
  reader.at = (last as number) + 1;
  return string.sub(reader.text, reader.at, reader.at);
}

const escapes: Record<string, string | undefined> = {
  '"': '"',
  "\\": "\\",
  "/": "/",
  b: " ",
  f: " ",
  n: "\n",
  r: "\r",
  t: "\t",
};

function readString(reader: Reader): string | undefined {
  let result = "";
  reader.at += 1;
  for (;;) {
    const [stop] = string.find(reader.text, '["\\]', reader.at);
    if (stop === undefined) return fail(reader, "unfinished string");
    const [plain] = string.gsub(
      string.sub(reader.text, reader.at, stop - 1),
      "[^\u0020-\u007e]",
      "?",
    );
    result += plain;
    reader.at = stop + 1;
    if (string.sub(reader.text, stop, stop) === '"') return result;
    const letter = string.sub(reader.text, stop + 1, stop + 1);
    if (letter === "u") {
      const [hex] = string.match(reader.text, "^%x%x%x%x", stop + 2);
      if (hex === undefined) return fail(reader, "bad escape");
      const code = tonumber(hex, 16) as number;
      result += code >= 32 && code < 127 ? string.char(code) : "?";
      reader.at = stop + 6;
    } else {
      const meant = escapes[letter];
      if (meant === undefined) return fail(reader, "bad escape");
      result += meant;
      reader.at = stop + 2;
    }
  }
}

function readNumber(reader: Reader): number | undefined {
  const [whole, fraction, exponent] = string.match(
    reader.text,
    "^(-?%d+)(%.?%d*)([eE]?[-+]?%d*)",
    reader.at,
  );
  if (whole === undefined || fraction === undefined || exponent === undefined) {
    return fail(reader, "unexpected character");
  }
  reader.at += whole.length + fraction.length + exponent.length;
  const long = exponent === "" && whole.length > 7;
  const value = tonumber(long ? whole : whole + fraction + exponent);
  return value === undefined ? fail(reader, "bad number") : value;
}

function readMembers(reader: Reader, depth: number, isObject: boolean): JsonObject | undefined {
  const result: JsonObject = {};
  const items = result as unknown as JsonValue[];
  const end = isObject ? "}" : "]";
  let count = 0;
  reader.at += 1;
  if (skipBlanks(reader) === end) {
    reader.at += 1;
    return result;
  }
  for (;;) {
    let name = "";
    if (isObject) {
      if (skipBlanks(reader) !== '"') return fail(reader, "a member name is missing");
      name = readString(reader) ?? "";
      if (skipBlanks(reader) !== ":") return fail(reader, "a colon is missing");
      reader.at += 1;
    }
    const value = readValue(reader, depth + 1);
    if (reader.why !== "") return undefined;
    if (isObject) {
      result[name] = value;
    } else {
      items[count] = value as JsonValue;
      count += 1;
    }
    const next = skipBlanks(reader);
    reader.at += 1;
    if (next === end) return result;
    if (next !== ",") return fail(reader, "a comma is missing");
  }
}

function readWord(reader: Reader): boolean | undefined {
  const [word] = string.match(reader.text, "^%a+", reader.at);
  if (word !== "true" && word !== "false" && word !== "null") {
    return fail(reader, "unexpected character");
  }
  reader.at += word.length;
  return word === "null" ? undefined : word === "true";
}

function readValue(reader: Reader, depth: number): JsonValue | undefined {
  if (depth > depthLimit) return fail(reader, "too deep");
  const first = skipBlanks(reader);
  if (first === '"') return readString(reader);
  if (first === "{") return readMembers(reader, depth, true);
  if (first === "[") return readMembers(reader, depth, false);
  const [isWord] = string.find(first, "%a");
  return isWord === undefined ? readNumber(reader) : readWord(reader);
}

/**
 * Reads one JSON object. Returns it with "", or undefined with the reason ("a comma is missing at
 * 17").
 */
export function decodeObject(text: string): LuaMultiReturn<[JsonObject | undefined, string]> {
  if (text.length > lengthLimit) return $multi(undefined, "longer than 4096 bytes");
  const reader: Reader = { text, at: 1, why: "" };
  const value = readValue(reader, 1);
  if (reader.why === "" && skipBlanks(reader) !== "") fail(reader, "more than one value");
  if (reader.why !== "") return $multi(undefined, reader.why);
  if (type(value) !== "table") return $multi(undefined, "not an object");
  return $multi(value as JsonObject, "");
}

export function numberMember(object: JsonObject, name: string): number | undefined {
  const value = object[name];
  return type(value) === "number" ? (value as number) : undefined;
}

export function stringMember(object: JsonObject, name: string): string | undefined {
  const value = object[name];
  return type(value) === "string" ? (value as string) : undefined;
}

export function objectMember(object: JsonObject, name: string): JsonObject | undefined {
  const value = object[name];
  return type(value) === "table" ? (value as JsonObject) : undefined;
}

/** A number written as JSON without loss: whole numbers plain, others with `decimals` digits. */
export function whole(value: number): string {
  return string.format("%d", Math.floor(value + 0.5));
}

/** `text` as a JSON string with its quotes; anything but printable ASCII becomes "?". */
export function quote(text: string): string {
  const [ascii] = string.gsub(text, "[^\u0020-\u007e]", "?");
  const [escaped] = string.gsub(ascii, '["\\]', "\\%0");
  return `"${escaped}"`;
}
