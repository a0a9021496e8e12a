// Checks on the small files of a packet: do manifest, statement, sentences, proofs and keys fit each other?
import { utf8 } from "./bytes.mjs";
import { digestOf, shortCode } from "./digests.mjs";
import { includes, leafHash } from "./merkle.mjs";
import { openCheckpoint, openNote, parseProof } from "./notes.mjs";
import { RecordFormatError } from "./record-format-error.mjs";
import { refusals } from "./statement.mjs";

export const ok = (code, text) => ({ code, outcome: "ok", text });
export const wrong = (code, text) => ({ code, outcome: "WRONG", text });
export const unproven = (code, text) => ({ code, outcome: "unproven", text });

export const checkRecord = (opened) => [bound(opened), shown(opened), saidInFull(opened), ...logged(opened)];

function bound({ statement, manifestDigest }) {
  return statement.manifest === manifestDigest
    ? ok("bound", `the statement names this manifest (${shortCode(manifestDigest)})`)
    : wrong(
        "bound",
        `the statement names manifest ${shortCode(statement.manifest)}, this one is ${shortCode(manifestDigest)}`,
      );
}

function shown({ statement: s, manifest, statementText }) {
  const digest = digestOf(utf8(statementText));
  if (digest !== s.statementText) {
    return wrong(
      "text",
      `the sentences in the packet (${shortCode(digest)}) are not those of the statement (${shortCode(s.statementText)})`,
    );
  }
  return manifest.statementTexts.get(s.locale) === digest
    ? ok("text", `the sentences shown, in language '${s.locale}', are those bound by manifest and statement`)
    : wrong("text", `the manifest binds no such sentences in language '${s.locale}'`);
}

function saidInFull({ statement: s }) {
  const codes = refusals(s);
  if (codes.length > 0) return wrong("said", `the statement is not a complete decision: ${codes.join(", ")}`);
  if (s.kind === "approve") {
    return ok("said", "words, size and place, garments and counts, colours in their range: each was confirmed");
  }
  return s.kind === "changes"
    ? ok("said", `${s.changes.length} changes were asked for, each in words`)
    : ok("said", "an earlier decision was taken back");
}

function logged(opened) {
  let freeze, decision, head;
  try {
    freeze = parseProof(opened.freezeProof);
    decision = parseProof(opened.decisionProof);
    head = openCheckpoint(decision.note, opened.keys);
    const form = wrongForm(opened, freeze, decision, head);
    if (form !== null) return [wrong("signed", form)];
  } catch (e) {
    if (!(e instanceof RecordFormatError)) throw e;
    return [wrong("signed", `the proofs do not hold: ${e.message}`)];
  }
  return [
    ok(
      "signed",
      `the checkpoint of ${head.origin} with ${head.size} entries is signed by ${opened.keys.join(" and ")}`,
    ),
    included("frozen", "the manifest", freeze, leafHash("freeze", opened.manifestDigest), head),
    included("decided", "the statement", decision, leafHash("decision", opened.statementDigest), head),
  ];
}

function wrongForm(opened, freeze, decision, head) {
  if (freeze.extra !== null || decision.extra !== null) {
    return "a proof carries extra data, which nothing vouches for";
  }
  if (freeze.note !== decision.note) return "the two proofs end in different checkpoints";
  if (freeze.index >= decision.index) {
    return `the manifest is entry ${freeze.index} of the log and the statement entry ${decision.index}: it was decided before it was frozen`;
  }
  const { signers } = openNote(decision.note, opened.keys);
  const idle = opened.keys.find((key) => !signers.some((s) => s.is(key)));
  if (idle !== undefined) return `the key ${idle} stands in proofs/keys.txt but signed nothing`;
  return signers.some((key) => key.name === head.origin)
    ? null
    : `none of the keys is called ${head.origin}, as the log is`;
}

const included = (code, what, proof, leaf, head) =>
  includes(head.root, head.size, leaf, proof.index, proof.path)
    ? ok(code, `${what} is entry ${proof.index} of that log`)
    : wrong(code, `the path of entry ${proof.index} does not lead from ${what} to the root of the log`);
