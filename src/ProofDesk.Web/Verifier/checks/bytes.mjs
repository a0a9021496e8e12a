// Bytes, texts and their one spelling. Nothing here is lenient: one value has one text.
import { RecordFormatError } from "./record-format-error.mjs";

const encoder = new TextEncoder();
// A byte order mark is kept as a character, so that it is refused where it does not belong.
const decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });

export const utf8 = (text) => encoder.encode(text);

/** The text, or null when the bytes are not UTF-8. */
export function fromUtf8(bytes) {
  try {
    return decoder.decode(bytes);
  } catch {
    return null;
  }
}

export const fromLatin1 = (bytes) => String.fromCharCode(...bytes);

export const hex = (bytes) => Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");

export function same(a, b) {
  return a.length === b.length && a.every((value, i) => value === b[i]);
}

export function commonPrefix(a, b) {
  let at = 0;
  while (at < a.length && at < b.length && a[at] === b[at]) at++;
  return at;
}

export function joined(...parts) {
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

export function toBase64(bytes) {
  let text = "";
  for (let i = 0; i < bytes.length; i += 3) {
    const [a, b, c] = [bytes[i], bytes[i + 1], bytes[i + 2]];
    text += DIGITS[a >> 2] + DIGITS[((a & 3) << 4) | ((b ?? 0) >> 4)];
    text += b === undefined ? "=" : DIGITS[((b & 15) << 2) | ((c ?? 0) >> 6)];
    text += c === undefined ? "=" : DIGITS[c & 63];
  }
  return text;
}

/** RFC 4648 section 4 without slack: no white space, no stray bits in the last digit; null for anything else. */
export function fromBase64(text) {
  if (!/^(?:[A-Za-z0-9+/]{4})*(?:[A-Za-z0-9+/]{2}==|[A-Za-z0-9+/]{3}=)?$/.test(text)) {
    return null;
  }
  const bytes = [];
  for (let i = 0; i < text.length; i += 4) {
    const [a, b, c, d] = [0, 1, 2, 3].map((k) => Math.max(0, DIGITS.indexOf(text[i + k])));
    bytes.push((a << 2) | (b >> 4), ((b & 15) << 4) | (c >> 2), ((c & 3) << 6) | d);
  }
  const length = bytes.length - (text.endsWith("==") ? 2 : text.endsWith("=") ? 1 : 0);
  const exact = Uint8Array.from(bytes.slice(0, length));
  return toBase64(exact) === text ? exact : null;
}

const LONG_MAX = (1n << 63n) - 1n;

/** ASCII decimal without leading zeroes, as a BigInt of at most 63 bits; null for anything else. */
export function wholeNumber(text) {
  if (!/^(?:0|[1-9][0-9]{0,18})$/.test(text)) return null;
  const value = BigInt(text);
  return value <= LONG_MAX ? value : null;
}

// Unicode white space and control characters, unit by unit.
export const isWhite = (c) => /[\t-\r \u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]/.test(c);
export const isControl = (c) => /[\u0000-\u001f\u007f-\u009f]/.test(c);
export const isBlank = (text) => Array.from({ length: text.length }, (_, i) => text[i]).every(isWhite);

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});

/** The check sum of ZIP (APPNOTE.TXT section 4.4.7), continued from an earlier value. */
export function crc32(bytes, before = 0) {
  let crc = ~before;
  for (let i = 0; i < bytes.length; i++) crc = CRC_TABLE[(crc ^ bytes[i]) & 255] ^ (crc >>> 8);
  return ~crc >>> 0;
}

export function need(value, message) {
  if (value === null || value === undefined || value === false) throw new RecordFormatError(message);
  return value;
}
