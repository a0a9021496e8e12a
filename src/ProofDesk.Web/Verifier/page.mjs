// The page around the checks: files in, words out. No network, no storage, nothing set as markup.
import { VerifierKey } from "./checks/notes.mjs";
import { verify } from "./checks/packet-verifier.mjs";
import { RecordFormatError } from "./checks/record-format-error.mjs";
import { parseTrust } from "./checks/trust-file.mjs";

const at = (id) => document.getElementById(id);

const VERDICTS = {
  valid: ["valid", "valid", "The packet is whole, and what you hold from elsewhere vouches for the log it is in."],
  "not valid": ["not valid", "stop", "Something does not fit: see the steps marked WRONG. Ask the shop for the packet again, and keep this one."],
  "valid in itself, not anchored outside": [
    "valid in itself, not anchored outside",
    "wait",
    "Everything inside fits. Nothing from outside says that the log is the shop's: paste its key or your receipt above.",
  ],
  unreadable: ["unreadable", "stop", "This file is not a packet. Choose the ZIP file as you got it."],
};

let packet = null;

at("packet").addEventListener("change", () => choose(at("packet").files[0]));
at("check").addEventListener("click", check);
at("held-file").addEventListener("change", async () => {
  const file = at("held-file").files[0];
  if (file) at("held").value = await file.text();
});
for (const kind of ["dragover", "dragleave", "drop"]) {
  document.addEventListener(kind, (event) => {
    event.preventDefault();
    document.body.classList.toggle("over", kind === "dragover");
    if (kind === "drop" && event.dataTransfer.files.length > 0) {
      at("packet").value = "";
      choose(event.dataTransfer.files[0]);
    }
  });
}
// The shop's own site may hand its key over in the address, behind the '#', which no server sees.
if (location.hash.startsWith("#key=")) at("key").value = decodeURIComponent(location.hash.slice(5));

function choose(file) {
  packet = file ?? null;
  if (packet !== null) check();
}

async function check() {
  at("problem").hidden = true;
  at("answer").hidden = true;
  if (packet === null) return problem("Choose the packet first.");
  at("check").disabled = true;
  at("check").textContent = "Checking";
  try {
    answer(await verify(blobSource(packet), known()));
  } catch (e) {
    problem(e instanceof RecordFormatError ? e.message : `cannot read ${packet.name}: ${e.message}`);
  } finally {
    at("check").disabled = false;
    at("check").textContent = "Check";
  }
}

function known() {
  const keys = at("key").value.split(/\s+/).filter((word) => word !== "");
  const held = at("held").value;
  return {
    keys: keys.map((key) => VerifierKey.parse(key)),
    trusted: parseTrust(at("trust").value, "trust file"),
    // A text field turns the line ends of a pasted receipt into its own and may lose the last one.
    held: held.trim() === "" ? null : `${held.replaceAll("\r\n", "\n").trimEnd()}\n`,
  };
}

const blobSource = (blob) => ({
  size: blob.size,
  read: async (from, to) => new Uint8Array(await blob.slice(from, to).arrayBuffer()),
});

function answer(result) {
  const [words, tone, means] = VERDICTS[result.verdict];
  at("answer").className = tone;
  at("verdict").textContent = words;
  at("summary").textContent = result.summary;
  at("means").textContent = means;
  at("steps").replaceChildren(...result.steps.map(line));
  at("pictures").replaceChildren(...pictures(result));
  at("answer").hidden = false;
  at("verdict").focus();
}

function line({ outcome, text }) {
  const item = document.createElement("li");
  item.className = outcome;
  const mark = document.createElement("b");
  mark.textContent = outcome;
  const words = document.createElement("span");
  words.textContent = text;
  item.append(mark, words);
  return item;
}

/** The bound pictures, once every byte of the packet fits. */
function pictures({ exit, opened, places }) {
  if (exit !== 0 && exit !== 2) return [];
  return opened.manifest.files
    .filter((f) => f.role === "picture" || f.role === "garment-picture")
    .map((f) => {
      const figure = document.createElement("figure");
      const image = document.createElement("img");
      const caption = document.createElement("figcaption");
      image.src = URL.createObjectURL(packet.slice(places.get(f.path), places.get(f.path) + f.bytes, f.mediaType));
      image.alt = f.path;
      caption.textContent = `${f.path}, computed for ${opened.manifest.viewingLight}; a screen is no contract proof`;
      figure.append(image, caption);
      return figure;
    });
}

function problem(text) {
  at("problem").textContent = text;
  at("problem").hidden = false;
}
