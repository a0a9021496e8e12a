// Reads an archive as packets have it (stored, no extra fields, one fixed time) forwards and accounts for every byte.
import { crc32, fromLatin1, joined, same } from "./bytes.mjs";
import { RecordFormatError } from "./record-format-error.mjs";

export const MAX_ARCHIVE = 0xffffffff;
const LOCAL_BYTES = 30;
const PIECE = 4 * 1024 * 1024;
const FIRST_DAY = (1 << 5) | 1; // 1 January 1980, the first day ZIP can say
const ascii = (text) => Uint8Array.from(text, (c) => c.charCodeAt(0));

export class StoredZipReader {
  #source;
  #entries = [];
  position = 0;
  /** What was found amiss without being a reason to stop reading. */
  notes = [];

  /** @param source `size`, and `read(from, to)` that gives those bytes (or a promise of them). */
  constructor(source, maxBytes = MAX_ARCHIVE) {
    this.#source = source;
    this.maxBytes = maxBytes;
  }

  /** Looks at the first bytes: is this meant to be a packet at all? */
  async looksLikePacket(firstName) {
    const start = await this.#source.read(0, Math.min(this.#source.size, LOCAL_BYTES + firstName.length));
    return (
      (start.length >= 4 && u32(start, 0) === 0x04034b50) ||
      (start.length === LOCAL_BYTES + firstName.length && fromLatin1(start.slice(LOCAL_BYTES)) === firstName)
    );
  }

  /** Length of the next file, whose name must be `name`. */
  async open(name) {
    const offset = this.position;
    const head = await this.#read(LOCAL_BYTES, `the header of ${name}`);
    const nameBytes = u16(head, 26);
    if (u32(head, 0) !== 0x04034b50 || nameBytes === 0 || nameBytes > 255) {
      throw new RecordFormatError(`${name} is missing at byte ${offset}`);
    }
    const found = fromLatin1(await this.#read(nameBytes, "a file name"));
    if (found !== name) {
      throw new RecordFormatError(`${name} is missing at byte ${offset}, '${shown(found)}' stands there`);
    }
    const entry = { name, bytes: u32(head, 22), crc: u32(head, 14), offset };
    if (!same(head, localHeader(entry).slice(0, LOCAL_BYTES))) {
      throw new RecordFormatError(`the header of ${name} at byte ${offset} is not as a packet has it`);
    }
    this.#entries.push(entry);
    return entry.bytes;
  }

  /** Hands the contents of the file just opened to `take`, piece by piece. */
  async contents(take) {
    const entry = this.#entries.at(-1);
    let crc = 0;
    for (let left = entry.bytes; left > 0; ) {
      const piece = await this.#read(Math.min(left, PIECE), entry.name);
      crc = crc32(piece, crc);
      take(piece);
      left -= piece.length;
    }
    if (crc !== entry.crc) this.notes.push(`the check sum of ${entry.name} does not fit its contents`);
  }

  /** Checks the directory and that nothing follows it. */
  async finish() {
    const start = this.position;
    for (const entry of this.#entries) {
      await this.#expect(centralHeader(entry), `the directory entry of ${entry.name}`);
    }
    await this.#expect(end(this.#entries.length, this.position - start, start), "the end of the archive");
    if (this.position < this.#source.size) {
      throw new RecordFormatError(`more bytes follow the end of the archive at byte ${this.position}`);
    }
  }

  async #expect(expected, what) {
    const offset = this.position;
    if (!same(await this.#read(expected.length, what), expected)) {
      throw new RecordFormatError(
        `${what} at byte ${offset} is not as a packet has it (a file too many, or repacked)`,
      );
    }
  }

  async #read(bytes, what) {
    if (this.position + bytes > this.maxBytes) {
      throw new RecordFormatError(`the archive is larger than the ${this.maxBytes} bytes allowed`);
    }
    const to = Math.min(this.#source.size, this.position + bytes);
    const read = await this.#source.read(this.position, to);
    this.position += read.length;
    if (read.length < bytes) {
      throw new RecordFormatError(
        `the archive ends at byte ${this.position}, in ${what}: the download may have been cut short`,
      );
    }
    return read;
  }
}

const u16 = (bytes, at) => bytes[at] | (bytes[at + 1] << 8);
const u32 = (bytes, at) => (u16(bytes, at) | (u16(bytes, at + 2) << 16)) >>> 0;
const shown = (name) => name.slice(0, 60).replace(/[^ -~]/g, "?");

/** Little-endian fields: [bytes, value] each. */
function fields(...list) {
  const bytes = [];
  for (const [width, value] of list) {
    for (let i = 0; i < width; i++) bytes.push(Math.floor(value / 2 ** (8 * i)) & 255);
  }
  return bytes;
}

// Flags 0, method 0 (stored), time 0:00, date, check sum, size twice, length of the name, no extra field.
const facts = (entry) => [
  [2, 0],
  [2, 0],
  [2, 0],
  [2, FIRST_DAY],
  [4, entry.crc],
  [4, entry.bytes],
  [4, entry.bytes],
  [2, entry.name.length],
  [2, 0],
];

const localHeader = (entry) => joined(fields([4, 0x04034b50], [2, 10], ...facts(entry)), ascii(entry.name));

// Made by Unix, version 3.0 of the format; a plain file, -rw-r--r--.
const centralHeader = (entry) =>
  joined(
    fields([4, 0x02014b50], [2, (3 << 8) | 30], [2, 10], ...facts(entry), [2, 0], [2, 0], [2, 0], [4, 0x81a40000]),
    fields([4, entry.offset]),
    ascii(entry.name),
  );

const end = (count, bytes, offset) =>
  Uint8Array.from(fields([4, 0x06054b50], [4, 0], [2, count], [2, count], [4, bytes], [4, offset], [2, 0]));

