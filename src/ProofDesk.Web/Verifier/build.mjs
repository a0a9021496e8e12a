// Makes verify.html: one file that holds its script and its style, and a policy that lets in nothing else.
//   node Verifier/build.mjs OUT
import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { build } from "esbuild";

const here = new URL(".", import.meta.url).pathname;
const bundle = await build({
  entryPoints: [`${here}page.mjs`],
  bundle: true,
  write: false,
  format: "iife",
  target: "es2022",
  charset: "ascii",
  legalComments: "inline",
});
// Not minified: whoever wants to read the verifier can.
const script = `\n${bundle.outputFiles[0].text.replaceAll("</script", "<\\/script")}`;
const style = `\n${readFileSync(`${here}page.css`, "utf8")}`;
const hash = (text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;
const policy = [
  "default-src 'none'",
  `script-src ${hash(script)}`,
  `style-src ${hash(style)}`,
  "img-src blob:",
  "base-uri 'none'",
  "form-action 'none'",
  "require-trusted-types-for 'script'",
].join("; ");
const page = readFileSync(`${here}page.html`, "utf8")
  .replace("[policy]", () => policy)
  .replace("[style]", () => style)
  .replace("[script]", () => script);
writeFileSync(process.argv[2], page);
