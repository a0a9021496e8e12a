// Ed25519 (RFC 8032 section 5.1.7). Key and nonce point must lie in the group of prime order: there, all
// readings of the equation agree, so no key can be made whose signature one verifier takes and another refuses.
import { Point } from "@noble/ed25519";
import { sha512 } from "@noble/hashes/sha2.js";
import { hex, joined, same } from "./bytes.mjs";

const ORDER = Point.CURVE().n;

let last = { asked: "", answer: false };

/** One checkpoint is opened by several steps in a row, so the last answer is kept. */
export function verifies(key, text, signature) {
  const asked = [key, signature, sha512(text)].map(hex).join(" ");
  if (last.asked !== asked) last = { asked, answer: holds(key, text, signature) };
  return last.answer;
}

function holds(key, text, signature) {
  if (signature.length !== 64) return false;
  const [nonce, scalar] = [signature.slice(0, 32), little(signature.slice(32))];
  const [a, r] = [point(key), point(nonce)];
  if (a === null || r === null || scalar >= ORDER) return false;
  const k = little(sha512(joined(nonce, key, text))) % ORDER;
  const left = scalar === 0n ? Point.ZERO : Point.BASE.multiply(scalar, false);
  const right = k === 0n ? r : r.add(a.multiply(k, false));
  return same(left.toBytes(), right.toBytes());
}

function point(bytes) {
  try {
    const found = Point.fromBytes(bytes, false);
    return !found.isSmallOrder() && found.isTorsionFree() ? found : null;
  } catch {
    return null;
  }
}

function little(bytes) {
  let value = 0n;
  for (let i = bytes.length - 1; i >= 0; i--) value = (value << 8n) | BigInt(bytes[i]);
  return value;
}
