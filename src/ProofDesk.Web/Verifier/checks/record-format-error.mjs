/** A record (manifest, statement, note, proof) is not written as its format says; the message names the field and the limit. */
export class RecordFormatError extends Error {}
