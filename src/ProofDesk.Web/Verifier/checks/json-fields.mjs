// Takes the members of an object one by one; each refusal names the field, and a member nobody took is refused.
import { RecordFormatError } from "./record-format-error.mjs";

export class JsonFields {
  #path;
  #members;
  #taken = new Set();

  constructor(item, path) {
    if (!(item instanceof Map)) {
      throw new RecordFormatError(`${path.length === 0 ? "the document" : path} must be an object`);
    }
    this.#path = path;
    this.#members = item;
  }

  /** Reads an object with `read` and checks that it has no further members. */
  static read(item, path, read) {
    const fields = new JsonFields(item, path);
    const value = read(fields);
    const unknown = fields.keys.find((key) => !fields.#taken.has(key));
    if (unknown !== undefined) {
      throw new RecordFormatError(`${fields.#name(unknown)} is not a member this format knows`);
    }
    return value;
  }

  get keys() {
    return [...this.#members.keys()].sort();
  }

  text(key, max = 200, min = 1) {
    const text = this.#take(key);
    if (typeof text !== "string") throw this.wrong(key, "must be a text");
    if (text.length < min || text.length > max) {
      throw this.wrong(key, `has ${text.length} characters, must be ${min} to ${max}`);
    }
    return text;
  }

  optional(key, read) {
    return this.#members.has(key) ? read(key) : null;
  }

  exactly(key, expected) {
    const text = this.text(key);
    if (text !== expected) throw this.wrong(key, `is '${text}', must be '${expected}'`);
  }

  whole(key, min, max) {
    const value = this.#take(key);
    if (typeof value !== "number") throw this.wrong(key, "must be a whole number");
    if (value < min || value > max) throw this.wrong(key, `is ${value}, must be ${min} to ${max}`);
    return value;
  }

  truth(key) {
    const value = this.#take(key);
    if (typeof value !== "boolean") throw this.wrong(key, "must be true or false");
    return value;
  }

  digest(key) {
    const text = this.text(key);
    if (!/^sha256:[0-9a-f]{64}$/.test(text)) {
      throw this.wrong(key, "must be 'sha256:' and 64 lower-case hexadecimal digits");
    }
    return text;
  }

  hex(key, digits) {
    const text = this.text(key);
    if (text.length !== digits || !/^[0-9a-f]*$/.test(text)) {
      throw this.wrong(key, `must be ${digits} lower-case hexadecimal digits`);
    }
    return text;
  }

  word(key, words) {
    const text = this.text(key);
    if (!words.includes(text)) throw this.wrong(key, `is '${text}', must be one of ${words.join(", ")}`);
    return text;
  }

  time(key) {
    const text = this.text(key);
    if (!isTime(text)) throw this.wrong(key, `is '${text}', must look like 2026-11-24T22:08:34.120Z`);
    return text;
  }

  lab(key) {
    const items = this.#take(key);
    if (!Array.isArray(items)) throw this.wrong(key, "must be a list");
    const within = (value, min, max) => typeof value === "number" && value >= min && value <= max;
    const [l, a, b] = items;
    if (
      items.length !== 3 ||
      !within(l, 0, 20000) ||
      !within(a, -20000, 20000) ||
      !within(b, -20000, 20000)
    ) {
      throw this.wrong(
        key,
        "must be L, a, b in hundredths: three whole numbers, L 0 to 20000, a and b -20000 to 20000",
      );
    }
    return { l, a, b };
  }

  object(key, read) {
    return JsonFields.read(this.#take(key), this.#name(key), read);
  }

  list(key, min, max, read) {
    return this.#items(key, min, max, (item, name) => JsonFields.read(item, name, read));
  }

  texts(key, max, maxLength) {
    return this.#items(key, 0, max, (item, name) => {
      if (typeof item !== "string" || item.length === 0 || item.length > maxLength) {
        throw new RecordFormatError(`${name} must be a text of 1 to ${maxLength} characters`);
      }
      return item;
    });
  }

  wrong(key, what) {
    return new RecordFormatError(`${this.#name(key)} ${what}`);
  }

  #items(key, min, max, read) {
    const items = this.#take(key);
    if (!Array.isArray(items)) throw this.wrong(key, "must be a list");
    if (items.length < min || items.length > max) {
      throw this.wrong(key, `has ${items.length} entries, must be ${min} to ${max}`);
    }
    return items.map((item, i) => read(item, `${this.#name(key)}[${i}]`));
  }

  #take(key) {
    this.#taken.add(key);
    if (!this.#members.has(key)) throw this.wrong(key, "is missing");
    return this.#members.get(key);
  }

  #name(key) {
    return this.#path.length === 0 ? key : `${this.#path}.${key}`;
  }
}

/** UTC to the millisecond, 2026-11-24T22:08:34.120Z, and a day that exists. */
function isTime(text) {
  const parts = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2}):(\d{2})\.\d{3}Z$/.exec(text);
  if (parts === null) return false;
  const [year, month, day, hour, minute, second] = parts.slice(1).map(Number);
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0;
  return year >= 1 && day >= 1 && day <= days && hour <= 23 && minute <= 59 && second <= 59;
}
