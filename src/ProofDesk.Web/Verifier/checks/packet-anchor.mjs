// Does anything from outside the packet vouch for its log? Whoever holds the log's key can write a packet that fits in itself.
import { leafHash } from "./merkle.mjs";
import { openCheckpoint, openNote, parseProof, readCheckpoint, verifyProof } from "./notes.mjs";
import { ok, unproven, wrong } from "./packet-check.mjs";
import { RecordFormatError } from "./record-format-error.mjs";
import { counts } from "./trust-file.mjs";

export function checkAnchor(opened, options) {
  const size = readCheckpoint(parseProof(opened.decisionProof).note).size;
  const steps = [];
  if (options.keys.length > 0) steps.push(byKeys(opened.keys, options.keys));
  const trust = byTrust(opened.keys, size, options.trusted);
  if (trust !== null) steps.push(trust);
  if (options.held !== null) steps.push(byHeld(opened, options));
  if (steps.every((s) => s.outcome === "unproven")) {
    steps.push(
      unproven(
        "anchored",
        "that the log is the shop's: give its key (--key), a receipt (--checkpoint) or a trust file (--trust) from elsewhere",
      ),
    );
  }
  return steps;
}

function byKeys(signers, given) {
  const key = signers.find((s) => given.some((g) => g.is(s)));
  return key !== undefined
    ? ok("anchored", `the key ${key.short} is one you gave`)
    : wrong("anchored", `the log is signed by ${signers.join(" and ")}, not by a key you gave (${given.join(", ")})`);
}

function byTrust(signers, size, trusted) {
  const known = signers.filter((s) => trusted.some((t) => t.key.is(s)));
  const good = known.find((s) => counts(trusted, s, size));
  if (good !== undefined) return ok("anchored", `the key ${good.short} is in your trust file`);
  if (known.length > 0) return wrong("anchored", ended(known[0], size, trusted, "the packet's"));
  const namesake = trusted.find((t) => signers.some((s) => s.name === t.key.name));
  return namesake === undefined
    ? null
    : wrong("anchored", `your trust file has another key for ${namesake.key.name}: ${namesake.key}`);
}

function ended(key, size, trusted, whose) {
  const until = trusted
    .filter((t) => t.key.is(key) && t.until !== null)
    .map((t) => t.until)
    .reduce((a, b) => (b < a ? b : a));
  return `the key ${key.short} counts for a log of fewer than ${until} entries, by your trust file; ${whose} checkpoint has ${size} and no other key signed it`;
}

function byHeld(opened, options) {
  try {
    return options.held.startsWith("c2sp.org/tlog-proof")
      ? byReceipt(opened, options)
      : byCheckpoint(opened, options);
  } catch (e) {
    if (!(e instanceof RecordFormatError)) throw e;
    return wrong("anchored", `the checkpoint you gave does not fit this log: ${e.message}`);
  }
}

/** A receipt holds a proof of its own, so it vouches for the decision whatever size the log had then. */
function byReceipt(opened, { held, trusted }) {
  const proof = parseProof(held);
  const head = verifyProof(proof, leafHash("decision", opened.statementDigest), opened.keys);
  const own = parseProof(opened.decisionProof);
  if (proof.index !== own.index) {
    return wrong(
      "anchored",
      `your receipt says entry ${proof.index}, the packet entry ${own.index}: the log was forked`,
    );
  }
  return (
    revoked(proof.note, opened.keys, head, trusted) ??
    compared(opened, head) ??
    ok("anchored", `your receipt proves the same decision as entry ${proof.index} of the log`)
  );
}

function byCheckpoint(opened, { held, trusted }) {
  const head = openCheckpoint(held, opened.keys);
  return (
    revoked(held, opened.keys, head, trusted) ??
    compared(opened, head) ??
    unproven(
      "anchored-checkpoint",
      `anything by your checkpoint: it is of ${head.size} entries and the packet's of another size; give the .tlog-proof of the receipt instead`,
    )
  );
}

function revoked(note, keys, head, trusted) {
  const { signers } = openNote(note, keys);
  return signers.some((s) => counts(trusted, s, head.size))
    ? null
    : wrong("anchored", ended(signers[0], head.size, trusted, "your"));
}

/** A verdict when both heads are of one size or of two logs; null when sizes differ. */
function compared(opened, held) {
  const own = readCheckpoint(parseProof(opened.decisionProof).note);
  if (held.origin !== own.origin) {
    return wrong("anchored", `your checkpoint is of the log ${held.origin}, the packet of ${own.origin}`);
  }
  if (held.size !== own.size) return null;
  return held.rootText === own.rootText
    ? ok("anchored", `your checkpoint and the packet's are the same head of ${own.size} entries`)
    : wrong("anchored", `your checkpoint has another root at ${own.size} entries: the log was forked`);
}
