// The statement: what was said. The reader holds every limit of proofdesk-decision/1.
import { isBlank } from "./bytes.mjs";
import { parseCanonical } from "./canonical-json.mjs";
import { JsonFields } from "./json-fields.mjs";
import { isLocale } from "./manifest.mjs";

const MAX_NAME = 200;
const MAX_WORDS = 4000;
const MAX_CHANGES = 200;

export const parseStatement = (bytes) => JsonFields.read(parseCanonical(bytes), "", fromJson);

function fromJson(f) {
  f.exactly("profile", "proofdesk-decision/1");
  return {
    kind: f.word("decision", ["approve", "changes", "withdraw"]),
    manifest: f.digest("manifest"),
    statementText: f.digest("statementText"),
    locale: locale(f),
    confirmed: f.object("confirmed", (c) => ({
      words: c.truth("words"),
      sizeAndPlace: c.truth("sizeAndPlace"),
      garmentsAndCounts: c.truth("garmentsAndCounts"),
      coloursWithinRange: c.truth("coloursWithinRange"),
    })),
    name: f.text("name", MAX_NAME),
    invited: f.text("invited", 320),
    evidence: f.object("evidence", evidence),
    changes: f.list("changes", 0, MAX_CHANGES, (c) => ({ thing: c.text("thing"), words: c.text("words", MAX_WORDS) })),
    withdraws: f.optional("withdraws", (key) => f.digest(key)),
    comment: f.optional("comment", (key) => f.text(key, MAX_WORDS)),
    at: f.time("at"),
    nonce: f.text("nonce"),
    salt: f.hex("salt", 64),
  };
}

const evidence = (f) => ({
  level: f.word("level", ["S0", "E0", "E1"]),
  linkId: f.text("linkId"),
  codeAt: f.optional("codeAt", (key) => f.time(key)),
  agent: f.optional("agent", (key) => f.text(key, 500)),
  network: f.optional("network", (key) => f.text(key, 100)),
  elsewhere: f.optional("elsewhere", (key) =>
    f.object(key, (e) => ({
      staff: e.text("staff"),
      how: e.text("how"),
      at: e.time("at"),
      file: e.optional("file", (file) => e.digest(file)),
    })),
  ),
});

function locale(f) {
  const text = f.text("locale");
  if (!isLocale(text)) throw f.wrong("locale", `'${text}' is not a language such as 'en' or 'de-AT'`);
  return text;
}

/** Why the statement is not a complete decision: the codes of every refusal it gives by itself. */
export function refusals(s) {
  const codes = [];
  const when = (holds, code) => holds && codes.push(code);
  when(isBlank(s.name), "name-empty");
  if (s.kind === "approve") {
    when(!s.confirmed.words, "words-unconfirmed");
    when(!s.confirmed.sizeAndPlace, "size-and-place-unconfirmed");
    when(!s.confirmed.garmentsAndCounts, "garments-unconfirmed");
    when(!s.confirmed.coloursWithinRange, "colours-unconfirmed");
  }
  when(s.kind === "changes" && s.changes.length === 0, "no-change-named");
  when(s.kind !== "changes" && s.changes.length > 0, "changes-beside");
  s.changes.forEach((change) => when(isBlank(change.words), "change-without-words"));
  when((s.kind === "withdraw") !== (s.withdraws !== null), "withdraws-unnamed");
  when(s.evidence.level === "E1" && s.evidence.codeAt === null, "code-missing");
  when(s.evidence.level !== "E1" && s.evidence.codeAt !== null, "code-beside");
  when((s.evidence.level === "S0") !== (s.evidence.elsewhere !== null), "elsewhere-incomplete");
  return codes;
}
