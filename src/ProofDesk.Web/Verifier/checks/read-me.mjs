// README.txt of layout 1, written again from the bound data to be compared. Its words are frozen.
import { parseProof, readCheckpoint } from "./notes.mjs";

const lineEnds = /\r\n|[\r\n\f\u0085\u2028\u2029]/g;

export function readMe(opened) {
  const m = opened.manifest;
  const head = readCheckpoint(parseProof(opened.decisionProof).note);
  return `proofdesk-packet/1

This archive is the record of one decision: ${m.shop}, order ${m.order}, version ${m.version}.
Open record.html (after unpacking) to read it. The record itself is data/manifest.json and
data/statement.json; record.html is a copy for people.

What is inside
  data/manifest.json            what was decided on: prints, places, garments, plates, every file by two digests
  data/statement.json           what was said, by whom, when, on what evidence
  ${`data/statement-text.${opened.statement.locale}.txt`.padEnd(29)} the sentences that were shown
  data/files/                   the pictures, plates, lists and art themselves
  proofs/                       that both records are in the log of ${head.origin}

To check it with ProofDesk
  proofdesk verify PACKET.zip --key KEY
where KEY is the shop's log key from a place you trust: your receipt mail, the shop's site.
proofs/keys.txt holds the key too, but a forger would write his own there.

To check it without ProofDesk
  1. Every file in data/files has the size, SHA-256 and SHA-512 that data/manifest.json says; none more, none less.
  2. The SHA-256 of data/manifest.json is ${opened.manifestDigest.slice(7)}
     and data/statement.json names it as "manifest".
  3. The SHA-256 of the statement text is named as "statementText" in data/statement.json
     and under its language in data/manifest.json.
  4. Write the text "proofdesk-leaf/1", line end, "decision", line end, "sha256:" and the SHA-256 of
     data/statement.json, without a line end after it. Its RFC 6962 leaf hash, SHA-256 of a zero byte
     and that text, leads along proofs/decision.tlog-proof (c2sp.org/tlog-proof) to the root in the
     checkpoint. The same with "freeze" and data/manifest.json for proofs/freeze.tlog-proof.
  5. The checkpoint (c2sp.org/tlog-checkpoint) is signed with Ed25519 by the shop's log key
     (c2sp.org/signed-note).

The log had ${head.size} entries when this was sealed.
`.replace(lineEnds, "\n");
}
