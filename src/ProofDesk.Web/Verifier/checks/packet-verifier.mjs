// Checks a packet from front to back without unpacking it, in the order README.txt tells. The same steps, words and
// verdicts as `proofdesk verify`: both run over tests/Vectors and must agree.
import { fromUtf8, same, utf8 } from "./bytes.mjs";
import { MAX_BYTES } from "./canonical-json.mjs";
import { digestOf, FileDigests } from "./digests.mjs";
import { parseManifest } from "./manifest.mjs";
import { openNote, parseProof, VerifierKey } from "./notes.mjs";
import { checkAnchor } from "./packet-anchor.mjs";
import { checkRecord, ok, unproven, wrong } from "./packet-check.mjs";
import { said } from "./packet-words.mjs";
import { readMe } from "./read-me.mjs";
import { RecordFormatError } from "./record-format-error.mjs";
import { recordPage } from "./record-page.mjs";
import { parseStatement } from "./statement.mjs";
import { StoredZipReader } from "./stored-zip-reader.mjs";

const README = "README.txt";
const MANIFEST = "data/manifest.json";
const STATEMENT = "data/statement.json";
const KEYS = "proofs/keys.txt";
const RECORD = "record.html";

/** Nothing is known from elsewhere. */
export const NOTHING = { keys: [], trusted: [], held: null };

/**
 * @param source the archive: `size`, and `read(from, to)` that gives those bytes (or a promise of them)
 * @param options what is known from elsewhere: `keys`, `trusted` ({key, until}), `held` (text of a receipt, or null)
 */
export async function verify(source, options = NOTHING) {
  const reader = new StoredZipReader(source, options.maxBytes);
  if (!(await reader.looksLikePacket(README))) {
    return {
      verdict: "unreadable",
      exit: 3,
      steps: [],
      summary: "unreadable: this is not a packet (no archive that starts with README.txt)",
    };
  }
  const steps = [];
  let opened = null;
  const places = new Map(); // where each bound file begins in the archive
  try {
    const copy = await small(reader, README);
    const { record, ...read } = await readRecord(reader);
    opened = read;
    steps.push(ok("canonical", "manifest and statement are in their one canonical form"));
    const checked = checkRecord(opened);
    steps.push(...checked, copies(opened, checked, copy, record));
    steps.push(await files(reader, opened.manifest, places));
    await reader.finish();
    steps.push(
      reader.notes.length === 0
        ? ok("archive", "the archive holds these files and not a byte more")
        : wrong("archive", reader.notes.join("; ")),
    );
  } catch (e) {
    if (!(e instanceof RecordFormatError)) throw e;
    steps.push(wrong("archive", e.message));
  }
  if (opened !== null && steps.every((s) => s.outcome === "ok")) {
    steps.push(...checkAnchor(opened, options), ...notProven(opened));
  }
  return { ...sum(steps, opened), places };
}

async function readRecord(reader) {
  const manifestBytes = await small(reader, MANIFEST);
  const manifest = named(MANIFEST, () => parseManifest(manifestBytes));
  const statementBytes = await small(reader, STATEMENT);
  const statement = named(STATEMENT, () => parseStatement(statementBytes));
  const statementText = await text(reader, `data/statement-text.${statement.locale}.txt`);
  const keysText = await text(reader, KEYS);
  const keys = named(KEYS, () => readKeys(keysText));
  return {
    manifest,
    manifestDigest: digestOf(manifestBytes),
    statement,
    statementDigest: digestOf(statementBytes),
    statementText,
    keys,
    freezeProof: await text(reader, "proofs/freeze.tlog-proof"),
    decisionProof: await text(reader, "proofs/decision.tlog-proof"),
    record: await small(reader, RECORD),
  };
}

async function files(reader, manifest, places) {
  const amiss = [];
  for (const file of manifest.files) {
    const bytes = await reader.open(`data/files/${file.path}`);
    if (bytes !== file.bytes) {
      throw new RecordFormatError(`${file.path} has ${bytes} bytes, the manifest says ${file.bytes}`);
    }
    places.set(file.path, reader.position);
    const digests = new FileDigests();
    await reader.contents((piece) => digests.add(piece));
    const difference = digests.differs(file);
    if (difference !== null) amiss.push(difference);
  }
  return amiss.length === 0
    ? ok("files", `all ${manifest.files.length} files have the size, SHA-256 and SHA-512 of the manifest`)
    : wrong("files", amiss.join("; "));
}

function copies(opened, checked, copy, record) {
  // Proofs that do not parse were already refused; the copies cannot be written from them.
  if (checked.some((s) => s.outcome === "WRONG")) {
    return unproven("copies", "that the copies for people say the same: the record itself does not hold");
  }
  if (!same(utf8(readMe(opened)), copy)) return wrong("copies", `${README} does not say what the record says`);
  return same(utf8(recordPage(opened)), record)
    ? ok("copies", `${RECORD} and ${README} say what the record says`)
    : wrong("copies", `${RECORD} does not say what the record says`);
}

function notProven(opened) {
  const s = opened.statement;
  const who = {
    S0: "that the client said it: staff wrote down a decision given elsewhere (evidence S0)",
    E0: `who typed the name '${s.name}': anyone who held the link mailed to ${s.invited} could (evidence E0)`,
    E1: `who typed the name '${s.name}': anyone who read the mail of ${s.invited} could (evidence E1)`,
  };
  const steps = [
    unproven("who", who[s.evidence.level]),
    unproven("when", `the time ${s.at}: it is the clock of the shop's server`),
  ];
  const { ignored } = openNote(parseProof(opened.decisionProof).note, opened.keys);
  if (ignored > 0) {
    steps.push(
      unproven("others", `${ignored} further signatures on the checkpoint: their keys are not known here`),
    );
  }
  return steps;
}

function sum(steps, opened) {
  const failed = steps.find((s) => s.outcome === "WRONG");
  if (failed !== undefined || opened === null) {
    return { verdict: "not valid", exit: 1, steps, summary: `not valid: ${failed?.text}`, opened };
  }
  const { manifest: m, statement: s } = opened;
  const what = `${said(s)} (${m.shop}, order ${m.order}, version ${m.version}, ${s.at}, evidence ${s.evidence.level})`;
  return steps.some((step) => step.code === "anchored" && step.outcome === "ok")
    ? { verdict: "valid", exit: 0, steps, summary: `valid: ${what}`, opened }
    : {
        verdict: "valid in itself, not anchored outside",
        exit: 2,
        steps,
        summary: `valid in itself, not anchored outside: ${what}`,
        opened,
      };
}

function readKeys(text) {
  const lines = text.split("\n");
  const keys = lines.slice(0, -1).map((line) => VerifierKey.parse(line));
  const different = keys.every((key, i) => !keys.slice(0, i).some((k) => k.is(key)));
  if (keys.length === 0 || keys.length > 16 || lines.at(-1) !== "" || !different) {
    throw new RecordFormatError(`must be 1 to 16 different keys, a line each, got ${keys.length}`);
  }
  return keys;
}

async function small(reader, name) {
  const length = await reader.open(name);
  if (length > MAX_BYTES) {
    throw new RecordFormatError(`${name} has ${length} bytes, at most ${MAX_BYTES} are read`);
  }
  const bytes = new Uint8Array(length);
  let at = 0;
  await reader.contents((piece) => {
    bytes.set(piece, at);
    at += piece.length;
  });
  return bytes;
}

async function text(reader, name) {
  const found = fromUtf8(await small(reader, name));
  if (found === null) throw new RecordFormatError(`${name} is not UTF-8`);
  return found;
}

function named(name, read) {
  try {
    return read();
  } catch (e) {
    if (!(e instanceof RecordFormatError)) throw e;
    throw new RecordFormatError(`${name}: ${e.message}`);
  }
}
