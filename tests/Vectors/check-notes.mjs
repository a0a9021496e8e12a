// Opens signed notes as verify.html does, a JSON line each: {"key":"NAME+ID+BASE64","note":"..."}   -> yes, or no and why
import { readFileSync } from "node:fs";
import { openNote, VerifierKey } from "../../src/ProofDesk.Web/Verifier/checks/notes.mjs";

for (const line of readFileSync(0, "utf8").split("\n").filter(Boolean)) {
  const { key, note } = JSON.parse(line);
  try {
    openNote(note, [VerifierKey.parse(key)]);
    console.log("yes");
  } catch (wrong) {
    console.log(`no: ${wrong.message}`);
  }
}
