/**
 * State as text that restores to the last bit: JSON, with float arrays as base64 and the few
 * numbers that JSON cannot write (NaN, infinities, negative zero) by name.
 */

const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const NAMES: Record<string, number> = {
  NaN: Number.NaN,
  inf: Number.POSITIVE_INFINITY,
  "-inf": Number.NEGATIVE_INFINITY,
  "-0": -0,
};

export function encodeState(state: unknown): string {
  return JSON.stringify(state, (_key, value: unknown) => {
    if (value instanceof Float64Array) return { f64: toBase64(bytesOf(value)) };
    if (value instanceof Float32Array) return { f32: toBase64(bytesOf(value)) };
    if (value instanceof Uint8Array) return { u8: toBase64(value) };
    if (typeof value === "number" && (!Number.isFinite(value) || Object.is(value, -0))) {
      const name = Number.isNaN(value) ? "NaN" : value === 0 ? "-0" : value > 0 ? "inf" : "-inf";
      return { num: name };
    }
    return value;
  });
}

/** @throws SyntaxError where the text is not JSON */
export function decodeState(text: string): unknown {
  return JSON.parse(text, (_key, value: unknown) => {
    if (typeof value !== "object" || value === null) return value;
    const entries = Object.entries(value);
    if (entries.length !== 1) return value;
    const [kind, content] = entries[0]!;
    if (typeof content !== "string") return value;
    if (kind === "f64") return new Float64Array(fromBase64(content).buffer);
    if (kind === "f32") return new Float32Array(fromBase64(content).buffer);
    if (kind === "u8") return fromBase64(content);
    if (kind === "num" && content in NAMES) return NAMES[content];
    return value;
  });
}

function bytesOf(array: Float64Array | Float32Array): Uint8Array {
  return new Uint8Array(array.buffer, array.byteOffset, array.byteLength);
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

function fromBase64(text: string): Uint8Array {
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
