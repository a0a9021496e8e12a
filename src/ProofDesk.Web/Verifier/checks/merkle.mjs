// The hash tree of RFC 6962 section 2.1, and its inclusion proofs by RFC 9162 section 2.1.3.2.
import { joined, same, utf8 } from "./bytes.mjs";
import { sha256 } from "./digests.mjs";

const nodeHash = (left, right) => sha256(joined([1], left, right));

/** The hash in the log of an event of this family ("freeze" or "decision") with this digest. */
export const leafHash = (family, digest) => sha256(joined([0], utf8(`proofdesk-leaf/1\n${family}\n${digest}`)));

/** Does this path lead from the leaf hash to the root? Index and size are BigInts. */
export function includes(root, size, leaf, index, path) {
  if (index < 0n || index >= size) return false;
  let [node, last, hash] = [index, size - 1n, leaf];
  for (const sibling of path) {
    if (last === 0n) return false;
    if ((node & 1n) === 1n || node === last) {
      hash = nodeHash(sibling, hash);
      while ((node & 1n) === 0n && node !== 0n) [node, last] = [node >> 1n, last >> 1n];
    } else {
      hash = nodeHash(hash, sibling);
    }
    [node, last] = [node >> 1n, last >> 1n];
  }
  return last === 0n && same(root, hash);
}
