using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Packets;

/// <summary>Checks a packet from front to back without unpacking it, in the order README.txt tells.</summary>
public static class PacketVerifier
{
    private const int MaxSmallFile = CanonicalJsonReader.MaxBytes;

    /// <summary>Reads the archive once, forwards. An <see cref="IOException"/> of the stream is the caller's to say.</summary>
    public static Verdict Verify(Stream zip, VerifyOptions options)
    {
        var reader = new StoredZipReader(zip, options.MaxBytes);
        if (!reader.LooksLikePacket(PacketNames.ReadMe))
        {
            return new(
                VerdictKind.Unreadable,
                [],
                "unreadable: this is not a packet (no archive that starts with README.txt)",
                null,
                null
            );
        }

        var steps = new List<VerifyStep>();
        OpenedPacket? opened = null;
        try
        {
            var readMe = Small(reader, PacketNames.ReadMe);
            opened = ReadRecord(reader, out var record);
            steps.Add(PacketCheck.Ok("canonical", "manifest and statement are in their one canonical form"));
            steps.AddRange(PacketCheck.Record(opened));
            steps.Add(HumanCopies(opened, readMe, record));
            steps.Add(Files(reader, opened.Manifest));
            reader.Finish();
            steps.Add(
                reader.Notes.Count == 0
                    ? PacketCheck.Ok("archive", "the archive holds these files and not a byte more")
                    : PacketCheck.Fail("archive", string.Join("; ", reader.Notes))
            );
        }
        catch (RecordFormatException e)
        {
            steps.Add(PacketCheck.Fail("archive", e.Message));
        }

        if (opened is not null && steps.TrueForAll(s => s.Outcome == StepOutcome.Passed))
        {
            steps.AddRange(PacketAnchor.Check(opened, options));
            steps.AddRange(NotProven(opened));
        }

        return Sum(steps, opened);
    }

    private static OpenedPacket ReadRecord(StoredZipReader reader, out byte[] record)
    {
        var manifestBytes = Small(reader, PacketNames.Manifest);
        var manifest = Named(PacketNames.Manifest, () => ManifestJson.Parse(manifestBytes));
        var statementBytes = Small(reader, PacketNames.Statement);
        var statement = Named(PacketNames.Statement, () => StatementJson.Parse(statementBytes));
        var text = Text(reader, PacketNames.StatementText(statement.Locale));
        var keysText = Text(reader, PacketNames.Keys);
        var keys = Named(PacketNames.Keys, () => Keys(keysText));
        var freeze = Text(reader, PacketNames.FreezeProof);
        var decision = Text(reader, PacketNames.DecisionProof);
        record = Small(reader, PacketNames.Record);
        return new(new([.. manifestBytes], [.. statementBytes], text, keys, freeze, decision), manifest, statement);
    }

    private static VerifyStep Files(StoredZipReader reader, Manifest manifest)
    {
        var wrong = new List<string>();
        foreach (var file in manifest.Files)
        {
            var bytes = reader.Open(PacketNames.File(file));
            if (bytes != file.Bytes)
            {
                throw new RecordFormatException($"{file.Path} has {bytes} bytes, the manifest says {file.Bytes}");
            }

            using var digests = new FileDigests();
            reader.Contents(piece => digests.Add(piece.Span));
            if (digests.Differs(file) is { } difference)
            {
                wrong.Add(difference);
            }
        }

        return wrong.Count == 0
            ? PacketCheck.Ok(
                "files",
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"all {manifest.Files.Length} files have the size, SHA-256 and SHA-512 of the manifest"
                )
            )
            : PacketCheck.Fail("files", string.Join("; ", wrong));
    }

    private static VerifyStep HumanCopies(OpenedPacket opened, byte[] readMe, byte[] record)
    {
        // Proofs that do not parse were already refused; the copies cannot be written from them.
        if (PacketCheck.Record(opened).Any(s => s.Outcome == StepOutcome.Failed))
        {
            return new(
                "copies",
                StepOutcome.NotProven,
                "that the copies for people say the same: the record itself does not hold"
            );
        }

        var files = opened.SmallFiles();
        if (!files[0].Bytes.AsSpan().SequenceEqual(readMe))
        {
            return PacketCheck.Fail("copies", $"{PacketNames.ReadMe} does not say what the record says");
        }

        return files[^1].Bytes.AsSpan().SequenceEqual(record)
            ? PacketCheck.Ok("copies", $"{PacketNames.Record} and {PacketNames.ReadMe} say what the record says")
            : PacketCheck.Fail("copies", $"{PacketNames.Record} does not say what the record says");
    }

    private static IEnumerable<VerifyStep> NotProven(OpenedPacket opened)
    {
        var s = opened.Statement;
        yield return new(
            "who",
            StepOutcome.NotProven,
            s.Evidence.Level switch
            {
                EvidenceLevel.GivenElsewhere =>
                    "that the client said it: staff wrote down a decision given elsewhere (evidence S0)",
                EvidenceLevel.Link =>
                    $"who typed the name '{s.Name}': anyone who held the link mailed to {s.Invited} could (evidence E0)",
                _ => $"who typed the name '{s.Name}': anyone who read the mail of {s.Invited} could (evidence E1)",
            }
        );
        yield return new(
            "when",
            StepOutcome.NotProven,
            $"the time {UtcText.Write(s.At)}: it is the clock of the shop's server"
        );
        var decision = TlogProof.Parse(opened.Packet.DecisionProof);
        var ignored = SignedNote.Open(decision.CheckpointNote, opened.Packet.Keys).Ignored;
        if (ignored > 0)
        {
            yield return new(
                "others",
                StepOutcome.NotProven,
                $"{ignored} further signatures on the checkpoint: their keys are not known here"
            );
        }
    }

    private static Verdict Sum(List<VerifyStep> steps, OpenedPacket? opened)
    {
        var failed = steps.Find(s => s.Outcome == StepOutcome.Failed);
        if (failed is not null || opened is null)
        {
            return new(
                VerdictKind.NotValid,
                [.. steps],
                $"not valid: {failed?.Text}",
                opened?.Manifest,
                opened?.Statement
            );
        }

        var (m, s) = (opened.Manifest, opened.Statement);
        var said =
            $"{PacketWords.Said(s)} ({m.Shop}, order {m.Order}, version {m.Version}, {UtcText.Write(s.At)}, evidence {StatementJson.Word(s.Evidence.Level)})";
        return steps.Exists(p => p is { Code: "anchored", Outcome: StepOutcome.Passed })
            ? new(VerdictKind.Valid, [.. steps], $"valid: {said}", m, s)
            : new(VerdictKind.ValidNotAnchored, [.. steps], $"valid in itself, not anchored outside: {said}", m, s);
    }

    private static ImmutableArray<VerifierKey> Keys(string text)
    {
        var lines = text.Split('\n');
        var keys = lines[..^1].Select(VerifierKey.Parse).ToImmutableArray();
        return keys.Length is > 0 and <= 16 && lines[^1].Length == 0 && keys.Distinct().Count() == keys.Length
            ? keys
            : throw new RecordFormatException($"must be 1 to 16 different keys, a line each, got {keys.Length}");
    }

    private static byte[] Small(StoredZipReader reader, string name)
    {
        var length = reader.Open(name);
        if (length > MaxSmallFile)
        {
            throw new RecordFormatException($"{name} has {length} bytes, at most {MaxSmallFile} are read");
        }

        var bytes = new List<byte>((int)length);
        reader.Contents(piece => bytes.AddRange(piece.Span));
        return [.. bytes];
    }

    private static string Text(StoredZipReader reader, string name)
    {
        try
        {
            return new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(Small(reader, name));
        }
        catch (DecoderFallbackException)
        {
            throw new RecordFormatException($"{name} is not UTF-8");
        }
    }

    private static T Named<T>(string name, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (RecordFormatException e)
        {
            throw new RecordFormatException($"{name}: {e.Message}");
        }
    }
}
