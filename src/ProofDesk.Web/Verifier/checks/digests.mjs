// SHA-256 and SHA-512 in plain JavaScript: a page opened from a folder may have no crypto.subtle.
import { sha256, sha512 } from "@noble/hashes/sha2.js";
import { crc32, hex } from "./bytes.mjs";

export { sha256 };

/** "sha256:" and 64 digits, as records name a digest. */
export const digestOf = (bytes) => `sha256:${hex(sha256(bytes))}`;

/** The first eight digits, for people to compare by eye. */
export const shortCode = (digest) => digest.slice(7, 15);

/** Size, both digests and check sum of one file, taken while it streams by. */
export class FileDigests {
  #sha256 = sha256.create();
  #sha512 = sha512.create();
  #bytes = 0;
  crc = 0;

  add(piece) {
    this.#sha256.update(piece);
    this.#sha512.update(piece);
    this.#bytes += piece.length;
    this.crc = crc32(piece, this.crc);
  }

  /** What differs from the manifest, or null. */
  differs(file) {
    if (this.#bytes !== file.bytes) {
      return `${file.path} has ${this.#bytes} bytes, the manifest says ${file.bytes}`;
    }
    if (hex(this.#sha256.digest()) !== file.sha256) {
      return `${file.path} is not the file of the manifest (SHA-256 differs)`;
    }
    return hex(this.#sha512.digest()) === file.sha512
      ? null
      : `${file.path} is not the file of the manifest (SHA-512 differs)`;
  }
}
