// A trust file: the shop's log keys, a line each. "KEY until SIZE" is a key that counts for smaller logs only.
import { need, wholeNumber } from "./bytes.mjs";
import { VerifierKey } from "./notes.mjs";
import { RecordFormatError } from "./record-format-error.mjs";

export function parseTrust(text, name = "trust") {
  return text.split(/\r\n|\n|\r/).flatMap((line, i) => {
    const words = line
      .split("#")[0]
      .split(/[ \t]+/)
      .filter((word) => word !== "");
    if (words.length === 0) return [];
    try {
      return [trusted(words)];
    } catch (e) {
      if (!(e instanceof RecordFormatError)) throw e;
      throw new RecordFormatError(`${name}, line ${i + 1}: ${e.message}`);
    }
  });
}

function trusted(words) {
  const key = VerifierKey.parse(words[0]);
  if (words.length === 1) return { key, until: null };
  if (words.length !== 3 || words[1] !== "until") {
    throw new RecordFormatError(`after the key may stand 'until SIZE' only, got '${words.slice(1).join(" ")}'`);
  }
  return { key, until: need(wholeNumber(words[2]), `'${words[2]}' is not the size of a log`) };
}

/** Does this key count for a log of this size? Every line about it must say so. */
export const counts = (trust, key, size) =>
  trust.filter((t) => t.key.is(key)).every((t) => t.until === null || size < t.until);
