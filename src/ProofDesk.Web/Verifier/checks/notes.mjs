// c2sp.org/signed-note, c2sp.org/tlog-checkpoint and c2sp.org/tlog-proof, read strictly.
import { fromBase64, hex, isControl, isWhite, joined, need, same, toBase64, utf8, wholeNumber } from "./bytes.mjs";
import { sha256 } from "./digests.mjs";
import { verifies } from "./ed25519.mjs";
import { includes } from "./merkle.mjs";
import { RecordFormatError } from "./record-format-error.mjs";

const ED25519 = 1;
const MAX_SIGNATURES = 64;
const MAX_PATH = 63;
const PROOF_LINE = "c2sp.org/tlog-proof@v1";
const units = (text) => Array.from({ length: text.length }, (_, i) => text[i]);

const isName = (name) => name.length > 0 && !units(name).some((c) => isWhite(c) || isControl(c) || c === "+");

/** A public key written NAME+ID+BASE64. */
export class VerifierKey {
  constructor(name, key) {
    if (!isName(name)) {
      throw new RecordFormatError(
        `'${name}' is no key name: it is empty or has a space, a plus or a control character`,
      );
    }
    this.name = name;
    this.key = key;
    this.id = hex(sha256(joined(utf8(name), [10, ED25519], key)).slice(0, 4));
  }

  static parse(text) {
    const first = text.indexOf("+");
    const second = first < 0 ? -1 : text.indexOf("+", first + 1);
    const typed = second < 0 ? null : fromBase64(text.slice(second + 1));
    if (typed === null || typed.length !== 33) {
      throw new RecordFormatError(
        `'${text}' is not a key: expected NAME+KEYID+BASE64 of one type byte and 32 key bytes`,
      );
    }
    if (typed[0] !== ED25519) {
      throw new RecordFormatError(`'${text}' has signature type ${typed[0]}; only 1 (Ed25519) is known here`);
    }
    const key = new VerifierKey(text.slice(0, first), typed.slice(1));
    const said = text.slice(first + 1, second);
    if (key.id !== said) {
      throw new RecordFormatError(`'${text}' says key id ${said}, its name and key give ${key.id}`);
    }
    return key;
  }

  is(other) {
    return this.name === other.name && same(this.key, other.key);
  }

  get short() {
    return `${this.name}+${this.id}`;
  }

  toString() {
    return `${this.name}+${this.id}+${toBase64(joined([ED25519], this.key))}`;
  }
}

/** The text of a note and the known keys that signed it; unknown keys are ignored, a known key that fails refuses the note. */
export function openNote(note, known) {
  const { text, lines } = split(note);
  const bytes = utf8(text);
  const signers = [];
  let ignored = 0;
  for (const line of lines) {
    const keys = known.filter((k) => k.id === line.id && k.name === line.name);
    if (keys.length === 0) {
      ignored++;
      continue;
    }
    const key = keys.find((k) => verifies(k.key, bytes, line.signature));
    if (key === undefined) {
      throw new RecordFormatError(`the signature of ${line.name}+${line.id} does not fit the text`);
    }
    if (!signers.some((s) => s.is(key))) signers.push(key);
  }
  if (signers.length === 0) {
    const said = lines.map((l) => `${l.name}+${l.id}`).join(", ");
    throw new RecordFormatError(`no known key signed the note (${lines.length} signatures: ${said})`);
  }
  return { text, signers, ignored };
}

function split(note) {
  const gap = note.lastIndexOf("\n\n");
  if (gap < 0 || !note.endsWith("\n")) {
    throw new RecordFormatError("the note has no empty line before its signatures, or no line end after them");
  }
  const text = note.slice(0, gap + 1);
  if (units(text).some((c) => c < " " && c !== "\n")) {
    throw new RecordFormatError("the text of a note ends with a line end and has no other control characters");
  }
  const lines = note.slice(gap + 2).split("\n").slice(0, -1);
  if (lines.length === 0 || lines.length > MAX_SIGNATURES) {
    throw new RecordFormatError(`the note has ${lines.length} signatures, must be 1 to ${MAX_SIGNATURES}`);
  }
  return { text, lines: lines.map(signatureLine) };
}

function signatureLine(line) {
  const space = line.indexOf(" ", Math.min(2, line.length));
  const bytes = space < 0 ? null : fromBase64(line.slice(space + 1));
  const name = line.slice(2, Math.max(2, space));
  if (!line.startsWith("\u2014 ") || space < 0 || !isName(name) || bytes === null || bytes.length < 5) {
    throw new RecordFormatError(`'${line}' is not a signature line: expected \u2014 NAME BASE64`);
  }
  return { name, id: hex(bytes.slice(0, 4)), signature: bytes.slice(4) };
}

/** Checks the signatures and reads the head of a log. */
export const openCheckpoint = (note, known) => head(openNote(note, known).text);

/** Reads the head without any check of a signature. */
export const readCheckpoint = (note) => head(split(note).text);

function head(text) {
  const lines = text.split("\n");
  if (lines.length !== 4 || lines[0].length === 0 || lines[3].length !== 0) {
    throw new RecordFormatError(`a checkpoint has three lines (origin, size, root), got ${lines.length - 1}`);
  }
  const size = need(wholeNumber(lines[1]), `'${lines[1]}' is not the size of a log`);
  const root = fromBase64(lines[2]);
  if (root === null || root.length !== 32) {
    throw new RecordFormatError(`'${lines[2]}' is not the base64 of a 32-byte root`);
  }
  return { origin: lines[0], size, root, rootText: lines[2] };
}

/** A .tlog-proof: index, path from the leaf's sibling up to the root's child, and the signed checkpoint. */
export function parseProof(text) {
  const gap = text.indexOf("\n\n");
  const lines = (gap < 0 ? text : text.slice(0, gap)).split("\n");
  if (gap < 0 || lines[0] !== PROOF_LINE) {
    throw new RecordFormatError(
      `not a proof: the first line must be '${PROOF_LINE}', an empty line must stand before the checkpoint`,
    );
  }
  let next = 1;
  let extra = null;
  if (next < lines.length && lines[next].startsWith("extra ")) {
    extra = need(fromBase64(lines[next++].slice(6)), "the extra data of the proof is not base64");
  }
  const index = next < lines.length && lines[next].startsWith("index ") ? wholeNumber(lines[next].slice(6)) : null;
  if (index === null) {
    throw new RecordFormatError(`line ${next + 1} of the proof is not 'index' and a whole number`);
  }
  const path = lines.slice(next + 1);
  if (path.length > MAX_PATH) {
    throw new RecordFormatError(`the proof has ${path.length} hashes, at most ${MAX_PATH} fit any log`);
  }
  return { index, path: path.map(pathHash), note: text.slice(gap + 2), extra };
}

/** Signature of the checkpoint, then the path from the leaf to its root. */
export function verifyProof(proof, leafHash, known) {
  const found = openCheckpoint(proof.note, known);
  if (!includes(found.root, found.size, leafHash, proof.index, proof.path)) {
    throw new RecordFormatError(
      `the path of leaf ${proof.index} does not lead to the root of the log of ${found.size} leaves`,
    );
  }
  return found;
}

function pathHash(line) {
  const hash = fromBase64(line);
  if (hash === null || hash.length !== 32) {
    throw new RecordFormatError(`'${line}' is not the base64 of a 32-byte hash`);
  }
  return hash;
}
