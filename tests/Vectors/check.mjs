// Runs the checks of verify.html over packets named on standard input, a JSON line each:
//   {"file":"...","from":0,"length":-1,"keys":"KEY KEY","trust":"text","held":"text"}   -> {"exit":0,"summary":"...","steps":["code ok text"]}
import { closeSync, fstatSync, openSync, readFileSync, readSync } from "node:fs";
import { VerifierKey } from "../../src/ProofDesk.Web/Verifier/checks/notes.mjs";
import { verify } from "../../src/ProofDesk.Web/Verifier/checks/packet-verifier.mjs";
import { parseTrust } from "../../src/ProofDesk.Web/Verifier/checks/trust-file.mjs";

const plain = (text) => text.toWellFormed();

for (const line of readFileSync(0, "utf8").split("\n").filter(Boolean)) {
  const job = JSON.parse(line);
  const file = openSync(job.file, "r");
  const size = job.length < 0 ? fstatSync(file).size : job.length;
  const source = {
    size,
    read(from, to) {
      const bytes = new Uint8Array(to - from);
      readSync(file, bytes, 0, bytes.length, job.from + from);
      return bytes;
    },
  };
  const answer = await verify(source, {
    keys: job.keys.split(" ").filter(Boolean).map((key) => VerifierKey.parse(key)),
    trusted: parseTrust(job.trust),
    held: job.held === "" ? null : job.held,
  });
  closeSync(file);
  const steps = answer.steps.map((step) => plain(`${step.code} ${step.outcome} ${step.text}`));
  console.log(JSON.stringify({ exit: answer.exit, summary: plain(answer.summary), steps }));
}
