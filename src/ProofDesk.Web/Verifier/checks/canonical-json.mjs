// Canonical JSON: RFC 8785 without fractions and without null. Texts are strings, whole numbers are numbers, objects are Maps.
import { commonPrefix, same, utf8 } from "./bytes.mjs";
import { RecordFormatError } from "./record-format-error.mjs";

export const MAX_BYTES = 16 * 1024 * 1024;
const MAX_DEPTH = 32;
const printable = (text) => /^[ -~]*$/.test(text);

/** Reads bytes that must be exactly what `write` would write. */
export function parseCanonical(bytes) {
  const item = parse(bytes);
  const again = utf8(write(item));
  if (!same(bytes, again)) {
    throw new RecordFormatError(
      `not canonical: byte ${commonPrefix(bytes, again)} differs from the canonical form (${bytes.length} bytes given, ${again.length} canonical)`,
    );
  }
  return item;
}

export function parse(bytes) {
  if (bytes.length > MAX_BYTES) {
    throw new RecordFormatError(`${bytes.length} bytes of JSON, at most ${MAX_BYTES} are read`);
  }
  const wrong = firstNotUtf8(bytes);
  if (wrong >= 0) throw new RecordFormatError(`byte ${wrong} is not UTF-8`);
  return new Reader(new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes)).document();
}

export function write(item) {
  if (typeof item === "string") return quoted(item);
  if (Array.isArray(item)) return `[${item.map(write).join(",")}]`;
  if (item instanceof Map) {
    const keys = [...item.keys()].sort();
    return `{${keys.map((key) => `${quoted(key)}:${write(item.get(key))}`).join(",")}}`;
  }
  return String(item);
}

const SHORT = { '"': '\\"', "\\": "\\\\", "\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r" };

function quoted(text) {
  const escape = (c) => SHORT[c] ?? `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`;
  return `"${text.replace(/["\\\u0000-\u001f]/g, escape)}"`;
}

/** Where the first sequence starts that is not UTF-8 (RFC 3629), or -1. */
function firstNotUtf8(bytes) {
  const tail = (i, low = 0x80, high = 0xbf) => bytes[i] >= low && bytes[i] <= high;
  for (let i = 0; i < bytes.length; ) {
    const b = bytes[i];
    let length = 0;
    if (b < 0x80) length = 1;
    else if (b >= 0xc2 && b <= 0xdf && tail(i + 1)) length = 2;
    else if (b >= 0xe0 && b <= 0xef) {
      const good = tail(i + 1, b === 0xe0 ? 0xa0 : 0x80, b === 0xed ? 0x9f : 0xbf) && tail(i + 2);
      length = good ? 3 : 0;
    } else if (b >= 0xf0 && b <= 0xf4) {
      const good = tail(i + 1, b === 0xf0 ? 0x90 : 0x80, b === 0xf4 ? 0x8f : 0xbf) && tail(i + 2) && tail(i + 3);
      length = good ? 4 : 0;
    }
    if (length === 0) return i;
    i += length;
  }
  return -1;
}

/** The strict reader: every refusal names the place. */
class Reader {
  #text;
  #at = 0;
  #depth = 0;

  constructor(text) {
    this.#text = text;
  }

  document() {
    const item = this.#value();
    this.#skipSpace();
    if (this.#at !== this.#text.length) throw this.#wrong("text after the end of the value");
    return item;
  }

  #value() {
    this.#skipSpace();
    const c = this.#peek();
    if (c === "{") return this.#nested(() => this.#members());
    if (c === "[") return this.#nested(() => this.#list());
    if (c === '"') return this.#string();
    if (c === "t") return this.#word("true", true);
    if (c === "f") return this.#word("false", false);
    if (c === "-" || (c >= "0" && c <= "9")) return this.#whole();
    if (c === "n") throw this.#wrong("null is not part of the profile: leave the member out");
    if (c === "\0") throw this.#wrong("the value ends too early");
    throw this.#wrong(`'${c}' does not start a value`);
  }

  #nested(read) {
    if (++this.#depth > MAX_DEPTH) throw this.#wrong(`more than ${MAX_DEPTH} levels`);
    this.#at++;
    const item = read();
    this.#depth--;
    return item;
  }

  #members() {
    const members = new Map();
    this.#skipSpace();
    if (this.#take("}")) return members;
    do {
      this.#skipSpace();
      const start = this.#at;
      if (this.#peek() !== '"') throw this.#wrong("a key in quotes is missing");
      const key = this.#string();
      if (!printable(key)) throw this.#wrong("a key is not printable ASCII", start);
      this.#skipSpace();
      this.#expect(":");
      const value = this.#value();
      if (members.has(key)) throw this.#wrong(`the key '${key}' is there twice`, start);
      members.set(key, value);
      this.#skipSpace();
    } while (this.#take(","));
    this.#expect("}");
    return members;
  }

  #list() {
    const items = [];
    this.#skipSpace();
    if (this.#take("]")) return items;
    do {
      items.push(this.#value());
      this.#skipSpace();
    } while (this.#take(","));
    this.#expect("]");
    return items;
  }

  #whole() {
    const start = this.#at;
    this.#take("-");
    while (this.#peek() >= "0" && this.#peek() <= "9") this.#at++;
    const digits = this.#text.slice(start, this.#at);
    if (".eE".includes(this.#peek())) {
      throw this.#wrong("fractions and exponents are not part of the profile: use a smaller unit", start);
    }
    const bare = digits.replace(/^-+/, "");
    if (bare.length === 0 || (bare.length > 1 && bare[0] === "0") || digits === "-0") {
      throw this.#wrong(`'${digits}' is not a whole number as JSON writes it`, start);
    }
    if (bare.length > 16 || !Number.isSafeInteger(Number(digits))) {
      throw this.#wrong(`the number ${digits} is beyond 2^53 - 1 = ${Number.MAX_SAFE_INTEGER}`, start);
    }
    return Number(digits);
  }

  #string() {
    const start = this.#at++;
    let value = "";
    for (;;) {
      if (this.#at >= this.#text.length) throw this.#wrong("a text is not closed", start);
      const c = this.#text[this.#at++];
      if (c === '"') break;
      if (c < " ") throw this.#wrong("a control character stands unescaped in a text", this.#at - 1);
      value += c === "\\" ? this.#escape() : c;
    }
    // U+FFFE is refused with the halves of pairs, as the other verifier does.
    if (/\p{Cs}|\ufffe/u.test(value)) throw this.#wrong("a text has half a surrogate pair", start);
    if (value.normalize("NFC") !== value) throw this.#wrong("a text is not in normalisation form C", start);
    return value;
  }

  #escape() {
    const c = this.#peek();
    this.#at++;
    const plain = { '"': '"', "\\": "\\", "/": "/", b: "\b", t: "\t", n: "\n", f: "\f", r: "\r" };
    if (Object.hasOwn(plain, c)) return plain[c];
    if (c === "u") return this.#unit();
    throw this.#wrong(`'\\${c}' is not an escape`, this.#at - 2);
  }

  #unit() {
    if (this.#at + 4 > this.#text.length) throw this.#wrong("a text is not closed");
    const digits = this.#text.slice(this.#at, this.#at + 4);
    this.#at += 4;
    if (!/^[0-9A-Fa-f]{4}$/.test(digits)) throw this.#wrong(`'\\u${digits}' is not an escape`, this.#at - 6);
    return String.fromCharCode(parseInt(digits, 16));
  }

  #word(word, value) {
    if (!this.#text.startsWith(word, this.#at)) throw this.#wrong("neither true nor false");
    this.#at += word.length;
    return value;
  }

  #peek() {
    return this.#at < this.#text.length ? this.#text[this.#at] : "\0";
  }

  #take(c) {
    const there = this.#peek() === c;
    if (there) this.#at++;
    return there;
  }

  #expect(c) {
    if (!this.#take(c)) throw this.#wrong(`'${c}' is missing`);
  }

  #skipSpace() {
    while (" \t\n\r".includes(this.#peek())) this.#at++;
  }

  #wrong(what, where = this.#at) {
    return new RecordFormatError(`${what}, at character ${where}`);
  }
}
