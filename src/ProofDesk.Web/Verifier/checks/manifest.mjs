// The manifest: what was decided on. The reader holds every limit of proofdesk-manifest/1.
import { parseCanonical } from "./canonical-json.mjs";
import { JsonFields } from "./json-fields.mjs";
import { RecordFormatError } from "./record-format-error.mjs";

const MICROMETRES = 5_000_000;
const HAND_OVERS = ["dots bound", "tones bound, dots simulated"];
const ROLES = [
  "picture",
  "garment-picture",
  "plate",
  "plates-pdf",
  "production",
  "ink-list",
  "recipe",
  "findings",
  "art",
];

export const parseManifest = (bytes) => checked(JsonFields.read(parseCanonical(bytes), "", fromJson));

export const isLocale = (text) => /^[A-Za-z][A-Za-z0-9-]{1,19}$/.test(text);

function fromJson(f) {
  f.exactly("profile", "proofdesk-manifest/1");
  return {
    shop: f.text("shop"),
    order: f.text("order"),
    version: f.whole("version", 1, 1_000_000),
    versionId: f.text("versionId"),
    handOver: f.word("handOver", HAND_OVERS),
    viewingLight: f.text("viewingLight"),
    prints: f.list("prints", 1, 100, print),
    lines: f.list("lines", 1, 1000, line),
    grounds: f.list("grounds", 1, 1000, ground),
    plates: f.list("plates", 0, 1000, plate),
    files: f.list("files", 1, 5000, file),
    statementTexts: f.object("statementTexts", texts),
    render: f.object("render", (r) => ({
      engine: r.text("engine"),
      recipe: r.digest("recipe"),
      seed: r.whole("seed", 0, Number.MAX_SAFE_INTEGER),
    })),
  };
}

const print = (f) => ({
  id: f.text("id"),
  place: f.text("place"),
  method: f.text("method"),
  sizeGroup: f.text("sizeGroup"),
  widthUm: f.whole("widthUm", 1, MICROMETRES),
  heightUm: f.whole("heightUm", 1, MICROMETRES),
  fromSeamUm: f.whole("fromSeamUm", -MICROMETRES, MICROMETRES),
  fromCentreUm: f.whole("fromCentreUm", -MICROMETRES, MICROMETRES),
  words: f.texts("words", 2000, 500),
});

const line = (f) => ({
  garment: f.text("garment"),
  colour: f.text("colour"),
  counts: f.list("counts", 1, 100, (c) => ({ size: c.text("size"), pieces: c.whole("pieces", 0, 10_000_000) })),
});

const ground = (f) => ({
  id: f.text("id"),
  garment: f.text("garment"),
  colour: f.text("colour"),
  lab: f.lab("lab"),
});

const plate = (f) => ({
  print: f.text("print"),
  screen: f.whole("screen", 1, 1000),
  purpose: f.text("purpose"),
  mesh: f.text("mesh"),
  lpi: f.whole("lpi", 0, 1000),
  angleMillidegrees: f.whole("angleMillidegrees", 0, 359_999),
  coveragePpm: f.whole("coveragePpm", 0, 1_000_000),
  path: f.text("path"),
  onGrounds: f.list("onGrounds", 1, 1000, (g) => ({
    ground: g.text("ground"),
    ink: g.text("ink"),
    lab: g.lab("lab"),
  })),
});

function file(f) {
  const path = f.text("path");
  if (!isSafePath(path)) {
    throw f.wrong("path", `'${path}' may hold ASCII letters, digits, '.', '-', '_' and '/', at most 180 in all`);
  }
  return {
    path,
    role: f.word("role", ROLES),
    mediaType: f.text("mediaType"),
    bytes: f.whole("bytes", 0, 0xfffffffe),
    sha256: f.hex("sha256", 64),
    sha512: f.hex("sha512", 128),
  };
}

function texts(f) {
  const found = new Map();
  for (const locale of f.keys) {
    if (!isLocale(locale)) throw f.wrong(locale, "is not a language such as 'en' or 'de-AT'");
    found.set(locale, f.digest(locale));
  }
  if (found.size === 0) throw new RecordFormatError("statementTexts names no language");
  return found;
}

/** Names that are safe on every system; the device names of Windows are not. */
function isSafePath(path) {
  const part = (p) =>
    /^[A-Za-z0-9_-](?:[A-Za-z0-9._-]*[A-Za-z0-9_-])?$/.test(p) &&
    !/^(?:CON|PRN|AUX|NUL|COM[0-9]|LPT[0-9])$/i.test(p.split(".")[0]);
  return path.length > 0 && path.length <= 180 && path.split("/").every(part);
}

/** What no single field can say: names used once, names referred to exist. */
function checked(m) {
  const paths = m.files.map((f) => f.path);
  once("prints", m.prints.map((p) => p.id));
  once("grounds", m.grounds.map((g) => g.id));
  once("files", paths.map((p) => p.toLowerCase()));
  if ([...paths].sort().some((path, i) => path !== paths[i])) {
    throw new RecordFormatError("files are not in the order of their paths");
  }
  const prints = m.prints.map((p) => p.id);
  const plates = m.files.filter((f) => f.role === "plate").map((f) => f.path);
  const grounds = m.grounds.map((g) => g.id);
  m.plates.forEach((p, i) => {
    known(`plates[${i}].print`, p.print, prints);
    known(`plates[${i}].path`, p.path, plates);
    p.onGrounds.forEach((on) => known(`plates[${i}].onGrounds`, on.ground, grounds));
  });
  return m;
}

function once(list, names) {
  const counts = new Map();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  for (const [name, count] of counts) {
    if (count > 1) throw new RecordFormatError(`${list} name '${name}' ${count} times`);
  }
}

function known(field, name, names) {
  if (!names.includes(name)) {
    throw new RecordFormatError(`${field} is '${name}', must be one of ${names.join(", ")}`);
  }
}
