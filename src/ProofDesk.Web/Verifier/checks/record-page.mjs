// record.html of layout 1, written again from the bound data to be compared. Its words are frozen.
import { parseProof } from "./notes.mjs";
import { evidence, said } from "./packet-words.mjs";

const STYLE =
  "body{font:16px/1.5 system-ui,sans-serif;color:#1c1c1a;background:#fff;max-width:60rem;margin:2rem auto;padding:0 1rem}" +
  "h1{font-size:1.6rem;line-height:1.2}h2{font-size:1.1rem;margin-top:2.2rem;border-bottom:1px solid #c9c6bd;padding-bottom:.2rem}" +
  "table{border-collapse:collapse;width:100%;font-size:.92rem}th,td{text-align:left;vertical-align:top;padding:.3rem .8rem .3rem 0;border-bottom:1px solid #e6e3db;min-width:4.5rem}" +
  "th{font-weight:600}code{font:13px/1.4 ui-monospace,monospace;overflow-wrap:anywhere}img{max-width:100%;max-height:32rem;border:1px solid #e6e3db}" +
  "figure{margin:1rem 0}figcaption{font-size:.85rem;color:#55534c}.said{border-left:4px solid #1c1c1a;padding-left:1rem}" +
  "pre{white-space:pre-wrap;font:inherit}.scroll{overflow-x:auto}";

export function recordPage(opened) {
  const { manifest: m, statement: s } = opened;
  return [
    '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n',
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src 'self' file:; style-src 'unsafe-inline'\">\n",
    '<meta name="viewport" content="width=device-width, initial-scale=1">\n',
    `<title>${html(`${m.shop}: order ${m.order}, version ${m.version}`)}</title>\n`,
    `<style>${STYLE}</style>\n</head>\n<body>\n`,
    `<h1>${html(`Order ${m.order}, version ${m.version}`)}</h1>\n<p>${html(m.shop)}</p>\n`,
    whatWasSaid(s),
    pictures(m),
    "<h2>Prints</h2>\n",
    table(
      ["Print", "Place", "Sizes", "Method", "Width x height", "From the seam", "From the centre line", "Words"],
      m.prints.map((p) => [
        p.id,
        p.place,
        p.sizeGroup,
        p.method,
        `${length(p.widthUm)} x ${length(p.heightUm)}`,
        length(p.fromSeamUm),
        centre(p.fromCentreUm),
        p.words.join(" "),
      ]),
    ),
    "<h2>Garments and counts</h2>\n",
    table(
      ["Garment", "Colour", "Counts", "Together"],
      m.lines.map((l) => [
        l.garment,
        l.colour,
        l.counts.map((c) => `${c.size} ${c.pieces}`).join(", "),
        String(l.counts.reduce((sum, c) => sum + c.pieces, 0)),
      ]),
    ),
    plates(m),
    "<h2>Files</h2>\n",
    table(
      ["File", "Role", "Bytes", "SHA-256"],
      m.files.map((f) => [f.path, f.role, String(f.bytes), f.sha256]),
    ),
    `<h2>Sentences that were shown</h2>\n<pre lang="${html(s.locale)}">${html(opened.statementText)}</pre>\n`,
    logged(opened),
    "</body>\n</html>\n",
  ].join("");
}

function whatWasSaid(s) {
  const confirmed =
    "<ul>\n<li>words and spelling confirmed</li>\n<li>size and place confirmed</li>\n<li>garments and counts confirmed</li>\n<li>colours within the range shown confirmed</li>\n</ul>\n";
  return [
    `<h2>What was said</h2>\n<div class="said">\n<p><strong>${html(said(s))}</strong></p>\n`,
    `<p>${html(`${s.at}, by the server's clock. ${evidence(s)}`)}</p>\n`,
    s.kind === "approve" ? confirmed : "",
    table(
      ["About", "What shall change"],
      s.changes.map((c) => [c.thing, c.words]),
    ),
    s.comment === null ? "" : `<p>Comment: ${html(s.comment)}</p>\n`,
    "</div>\n",
  ].join("");
}

function pictures(m) {
  const shown = m.files.filter((f) => f.role === "picture" || f.role === "garment-picture");
  const figure = ({ path }) =>
    `<figure><img src="data/files/${path}" alt="${path}"><figcaption>${path}, computed for ${html(m.viewingLight)}</figcaption></figure>\n`;
  return `<h2>Pictures</h2>\n${shown.map(figure).join("")}`;
}

function plates(m) {
  const ink = (g) =>
    `${g.ground}: ${g.ink} (L* ${decimal(g.lab.l, 2)}, a* ${decimal(g.lab.a, 2)}, b* ${decimal(g.lab.b, 2)})`;
  return (
    `<h2>Plates</h2>\n<p>Hand-over: ${html(m.handOver)}</p>\n` +
    table(
      ["Print", "Screen", "Purpose", "Mesh", "Ruling", "Angle", "Coverage", "Ink on each ground"],
      m.plates.map((p) => [
        p.print,
        String(p.screen),
        p.purpose,
        p.mesh,
        p.lpi === 0 ? "no halftone" : `${p.lpi} lpi`,
        p.lpi === 0 ? "" : `${decimal(p.angleMillidegrees, 3)} degrees`,
        `${decimal(p.coveragePpm, 4)} %`,
        p.onGrounds.map(ink).join(", "),
      ]),
    )
  );
}

function logged(opened) {
  const proof = parseProof(opened.decisionProof);
  return (
    "<h2>In the log</h2>\n" +
    table(
      ["What", "Value"],
      [
        ["Manifest", opened.manifestDigest],
        ["Statement", opened.statementDigest],
        ["Place of the manifest", String(parseProof(opened.freezeProof).index)],
        ["Place of the decision", String(proof.index)],
        ["Checkpoint", proof.note],
        ["Keys", opened.keys.map((k) => `${k}\n`).join("")],
      ],
    ) +
    "<p>This page is a copy for people. README.txt says how to check the record. Whether this kind of approval is enough for your purpose is a question of local rules; ask a licensed adviser.</p>\n"
  );
}

function table(head, rows) {
  if (rows.length === 0) return "";
  const heads = head.map((h) => `<th scope="col">${html(h)}</th>`).join("");
  const body = rows.map((row) => `<tr>${row.map((c) => `<td>${cell(c)}</td>`).join("")}</tr>\n`).join("");
  return `<div class="scroll"><table>\n<tr>${heads}</tr>\n${body}</table></div>\n`;
}

const cell = (text) =>
  (text.length > 50 && !text.includes(" ")) || text.includes("\n")
    ? `<code>${html(text).replaceAll("\n", "<br>")}</code>`
    : html(text);

/** Micrometres as millimetres and inches; half a hundredth of an inch is rounded away from zero. */
function length(um) {
  const hundredths = Math.floor((Math.abs(um) + 127) / 254);
  const inches = `${Math.floor(hundredths / 100)}.${String(hundredths % 100).padStart(2, "0")}`;
  return `${decimal(um, 3)} mm (${um < 0 && hundredths > 0 ? "-" : ""}${inches} in)`;
}

function centre(um) {
  if (um === 0) return "centred";
  return um > 0 ? `${length(um)} to the wearer's left` : `${length(-um)} to the wearer's right`;
}

/** A whole number of small units with its decimal point, without trailing zeroes. */
function decimal(value, places) {
  const digits = String(Math.abs(value)).padStart(places + 1, "0");
  const whole = digits.slice(0, -places);
  const fraction = digits.slice(-places).replace(/0+$/, "");
  return `${value < 0 ? "-" : ""}${whole}${fraction === "" ? "" : `.${fraction}`}`;
}

const html = (text) =>
  text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;")
    .replaceAll("'", "&#39;");
