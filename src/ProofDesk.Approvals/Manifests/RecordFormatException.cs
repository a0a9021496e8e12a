namespace ProofDesk.Approvals.Manifests;

/// <summary>A record (manifest, statement, note, proof) is not written as its format says; the message names the field and the limit.</summary>
public sealed class RecordFormatException(string message) : FormatException(message);
