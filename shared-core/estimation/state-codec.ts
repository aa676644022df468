/**
 * Plain data as short text that restores to the last bit: one byte says what follows, numbers take
 * the fewest bytes that hold them exactly, zeros of arrays take a bit, a text that stood before is named by
 * its number, and all of it is base64. States without such texts read the same.
 */

const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/** What a byte announces; from `SMALL` on it is a number of its own, 0 to 127. */
const NULL = 0;
const FALSE = 1;
const TRUE = 2;
const INT8 = 3;
const INT16 = 4;
const INT32 = 5;
const FLOAT32 = 6;
const FLOAT64 = 7;
const TEXT = 8;
const LIST = 9;
const RECORD = 10;
const FLOAT64S = 11;
const FLOAT32S = 12;
const BYTES = 13;
/** A text that stood before: which one, counted from the first. */
const AGAIN = 14;
const SMALL = 128;

/** @throws Error where a value is neither null, boolean, number, text, array, float or byte array nor plain object */
export function encodeState(state: unknown): string {
  const writer = new Writer();
  writer.value(state);
  return toBase64(writer.bytes());
}

/** @throws Error where the text ends too early or holds what `encodeState` never writes */
export function decodeState(text: string): unknown {
  return new Reader(fromBase64(text)).value();
}

class Writer {
  private buffer = new Uint8Array(4096);
  private view = new DataView(this.buffer.buffer);
  private length = 0;
  /** Each text as it was first written, with its number. */
  private readonly texts = new Map<string, number>();

  bytes(): Uint8Array {
    return this.buffer.subarray(0, this.length);
  }

  value(value: unknown): void {
    if (value === null || value === undefined) this.byte(NULL);
    else if (typeof value === "boolean") this.byte(value ? TRUE : FALSE);
    else if (typeof value === "number") this.number(value);
    else if (typeof value === "string") this.text(value);
    else if (value instanceof Float64Array) this.floats(FLOAT64S, value);
    else if (value instanceof Float32Array) this.floats(FLOAT32S, value);
    else if (value instanceof Uint8Array) this.sparse(value);
    else if (Array.isArray(value)) {
      this.byte(LIST);
      this.count(value.length);
      for (const entry of value) this.value(entry);
    } else if (typeof value === "object") {
      const entries = Object.entries(value).filter(([, entry]) => entry !== undefined);
      this.byte(RECORD);
      this.count(entries.length);
      for (const [key, entry] of entries) {
        this.text(key);
        this.value(entry);
      }
    } else throw new Error(`an estimator state holds no ${typeof value}`);
  }

  private number(value: number): void {
    const whole = Number.isInteger(value) && !Object.is(value, -0);
    if (whole && value >= 0 && value < 128) this.byte(SMALL + value);
    else if (whole && value >= -128 && value < 128)
      this.fixed(INT8, 1, (at) => this.view.setInt8(at, value));
    else if (whole && value >= -32768 && value < 32768)
      this.fixed(INT16, 2, (at) => this.view.setInt16(at, value));
    else if (whole && Math.abs(value) < 2 ** 31)
      this.fixed(INT32, 4, (at) => this.view.setInt32(at, value));
    else if (Object.is(Math.fround(value), value))
      this.fixed(FLOAT32, 4, (at) => this.view.setFloat32(at, value));
    else this.fixed(FLOAT64, 8, (at) => this.view.setFloat64(at, value));
  }

  private fixed(tag: number, size: number, write: (at: number) => void): void {
    this.byte(tag);
    this.room(size);
    write(this.length);
    this.length += size;
  }

  private text(value: string): void {
    const before = this.texts.get(value);
    if (before !== undefined) {
      this.byte(AGAIN);
      this.count(before);
      return;
    }
    this.texts.set(value, this.texts.size);
    this.byte(TEXT);
    this.count(value.length);
    for (let k = 0; k < value.length; k++) this.count(value.charCodeAt(k));
  }

  /** Length, one bit for each element that is not plain zero, and those elements. */
  private floats(tag: number, array: Float64Array | Float32Array): void {
    this.byte(tag);
    this.count(array.length);
    for (let k = 0; k < array.length; k += 8) {
      let bits = 0;
      for (let j = 0; j < 8 && k + j < array.length; j++) {
        if (!Object.is(array[k + j], 0)) bits |= 1 << j;
      }
      this.byte(bits);
    }
    const size = tag === FLOAT64S ? 8 : 4;
    for (const element of array) {
      if (Object.is(element, 0)) continue;
      this.room(size);
      if (size === 8) this.view.setFloat64(this.length, element);
      else this.view.setFloat32(this.length, element);
      this.length += size;
    }
  }

  /** Length, then runs: zeros to skip, bytes that follow, those bytes. */
  private sparse(array: Uint8Array): void {
    this.byte(BYTES);
    this.count(array.length);
    for (let k = 0; k < array.length; ) {
      let from = k;
      while (from < array.length && array[from] === 0) from++;
      let to = from;
      while (to < array.length && array[to] !== 0) to++;
      this.count(from - k);
      this.count(to - from);
      for (const byte of array.subarray(from, to)) this.byte(byte);
      k = to;
    }
  }

  /** A whole number from 0, seven bits a byte, the lowest first. */
  private count(value: number): void {
    let left = value;
    while (left > 127) {
      this.byte((left & 127) | 128);
      left >>>= 7;
    }
    this.byte(left);
  }

  private byte(value: number): void {
    this.room(1);
    this.buffer[this.length++] = value;
  }

  private room(size: number): void {
    if (this.length + size <= this.buffer.length) return;
    const larger = new Uint8Array(2 * this.buffer.length);
    larger.set(this.buffer);
    this.buffer = larger;
    this.view = new DataView(larger.buffer);
  }
}

class Reader {
  private readonly view: DataView;
  private readonly texts: string[] = [];
  private at = 0;

  constructor(bytes: Uint8Array) {
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  value(): unknown {
    const tag = this.byte();
    if (tag >= SMALL) return tag - SMALL;
    switch (tag) {
      case NULL:
        return null;
      case FALSE:
        return false;
      case TRUE:
        return true;
      case INT8:
        return this.view.getInt8(this.skip(1));
      case INT16:
        return this.view.getInt16(this.skip(2));
      case INT32:
        return this.view.getInt32(this.skip(4));
      case FLOAT32:
        return this.view.getFloat32(this.skip(4));
      case FLOAT64:
        return this.view.getFloat64(this.skip(8));
      case TEXT:
        return this.text();
      case AGAIN:
        return this.again();
      case LIST:
        return Array.from({ length: this.length() }, () => this.value());
      case RECORD:
        return this.record();
      case FLOAT64S:
        return this.floats(new Float64Array(this.length()), 8);
      case FLOAT32S:
        return this.floats(new Float32Array(this.length()), 4);
      case BYTES:
        return this.sparse();
      default:
        throw new Error(`not an estimator state: unknown mark ${tag}`);
    }
  }

  private text(): string {
    const codes = Array.from({ length: this.length() }, () => this.count());
    const text = String.fromCharCode(...codes);
    this.texts.push(text);
    return text;
  }

  private again(): string {
    const text = this.texts[this.count()];
    if (text === undefined) throw new Error("not an estimator state: a text never stood before");
    return text;
  }

  private record(): Record<string, unknown> {
    const entries = Array.from({ length: this.length() }, () => {
      const tag = this.byte();
      if (tag !== TEXT && tag !== AGAIN)
        throw new Error("not an estimator state: a name is missing");
      return [tag === TEXT ? this.text() : this.again(), this.value()] as const;
    });
    return Object.fromEntries(entries);
  }

  private floats<A extends Float64Array | Float32Array>(array: A, size: number): A {
    const marks = this.skip(Math.ceil(array.length / 8));
    for (let k = 0; k < array.length; k++) {
      if (((this.view.getUint8(marks + (k >> 3)) >> (k & 7)) & 1) === 0) continue;
      const at = this.skip(size);
      array[k] = size === 8 ? this.view.getFloat64(at) : this.view.getFloat32(at);
    }
    return array;
  }

  private sparse(): Uint8Array {
    const array = new Uint8Array(this.length());
    for (let k = 0; k < array.length; ) {
      k += this.count();
      const filled = this.count();
      for (let j = 0; j < filled && k < array.length; j++) array[k++] = this.byte();
      if (filled === 0 && k < array.length) throw new Error("not an estimator state: an empty run");
    }
    return array;
  }

  private count(): number {
    let value = 0;
    for (let shift = 0; shift < 28; shift += 7) {
      const byte = this.byte();
      value |= (byte & 127) << shift;
      if (byte < 128) return value;
    }
    throw new Error("not an estimator state: a length has no end");
  }

  /** A number of elements, which cannot be more than a state has bytes or eight zeros for each. */
  private length(): number {
    const length = this.count();
    if (length > 8 * this.view.byteLength + 4096)
      throw new Error("not an estimator state: too long");
    return length;
  }

  private byte(): number {
    return this.view.getUint8(this.skip(1));
  }

  private skip(size: number): number {
    const at = this.at;
    if (at + size > this.view.byteLength)
      throw new Error("not an estimator state: it ends too early");
    this.at += size;
    return at;
  }
}

function toBase64(bytes: Uint8Array): string {
  let text = "";
  for (let k = 0; k < bytes.length; k += 3) {
    const word = (bytes[k]! << 16) | ((bytes[k + 1] ?? 0) << 8) | (bytes[k + 2] ?? 0);
    text += ALPHABET[word >> 18]! + ALPHABET[(word >> 12) & 63]!;
    text += k + 1 < bytes.length ? ALPHABET[(word >> 6) & 63]! : "=";
    text += k + 2 < bytes.length ? ALPHABET[word & 63]! : "=";
  }
  return text;
}

export function fromBase64(text: string): Uint8Array {
  const clean = text.replace(/=+$/, "");
  const bytes = new Uint8Array(Math.floor((clean.length * 3) / 4));
  let word = 0;
  let bits = 0;
  let k = 0;
  for (const letter of clean) {
    word = ((word << 6) | ALPHABET.indexOf(letter)) & 0xffffff;
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      bytes[k++] = (word >> bits) & 255;
    }
  }
  return bytes;
}

/**
 * A state without its field names: every plain object that `shape` has in the same place becomes
 * the list of its values in the order of `shape`'s fields. What `shape` does not know stays as is.
 */
export function packState(value: unknown, shape: unknown): unknown {
  if (Array.isArray(value)) {
    const element = Array.isArray(shape) ? shape[0] : undefined;
    return value.map((entry, k) =>
      packState(entry, Array.isArray(shape) ? (shape[k] ?? element) : null),
    );
  }
  if (isPlain(value) && isPlain(shape)) {
    return Object.keys(shape).map((key) => packState(value[key], shape[key]));
  }
  return value;
}

/** The opposite of `packState`, with the same shape. */
export function unpackState(value: unknown, shape: unknown): unknown {
  if (isPlain(shape)) {
    if (!Array.isArray(value)) return value;
    return Object.fromEntries(
      // Fields that came later stand at the end; an older state starts with their first values.
      Object.keys(shape).map((key, k) => [
        key,
        k < value.length ? unpackState(value[k], shape[key]) : shape[key],
      ]),
    );
  }
  if (Array.isArray(value) && Array.isArray(shape)) {
    return value.map((entry, k) => unpackState(entry, shape[k] ?? shape[0]));
  }
  return value;
}

function isPlain(value: unknown): value is Record<string, unknown> {
  return (
    typeof value === "object" &&
    value !== null &&
    !Array.isArray(value) &&
    !ArrayBuffer.isView(value)
  );
}

/** Lower triangle of a symmetric matrix that is stored row by row. */
export function lowerTriangle(matrix: Float64Array, n: number): Float64Array {
  const out = new Float64Array((n * (n + 1)) / 2);
  let k = 0;
  for (let i = 0; i < n; i++) for (let j = 0; j <= i; j++) out[k++] = matrix[i * n + j]!;
  return out;
}

export function fromLowerTriangle(triangle: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n * n);
  let k = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      out[i * n + j] = triangle[k]!;
      out[j * n + i] = triangle[k]!;
      k++;
    }
  }
  return out;
}
