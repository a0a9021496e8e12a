using System.Collections.Immutable;
using System.IO.Compression;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Approvals.Tests.Packets;

public sealed class PacketTests
{
    [Fact]
    public async Task A_packet_checked_with_the_shops_key_is_valid_and_says_each_step()
    {
        var verdict = Samples.Verify(await Samples.Zip(), Samples.KnowingTheKey);

        Assert.Equal(
            [
                "Passed canonical: manifest and statement are in their one canonical form",
                $"Passed bound: the statement names this manifest ({verdict.Statement!.Manifest.ShortCode})",
                "Passed text: the sentences shown, in language 'en', are those bound by manifest and statement",
                "Passed said: words, size and place, garments and counts, colours in their range: each was confirmed",
                $"Passed signed: the checkpoint of lindhag.example/proofs/1 with 21 entries is signed by {Samples.Key.Verifier}",
                "Passed frozen: the manifest is entry 5 of that log",
                "Passed decided: the statement is entry 12 of that log",
                "Passed copies: record.html and README.txt say what the record says",
                "Passed files: all 6 files have the size, SHA-256 and SHA-512 of the manifest",
                "Passed archive: the archive holds these files and not a byte more",
                $"Passed anchored: the key {Samples.Origin}+{Samples.Key.Verifier.Id:x8} is one you gave",
                "NotProven who: who typed the name 'Ada Strand': anyone who held the link mailed to ada@harbour-rowing.example could (evidence E0)",
                "NotProven when: the time 2026-11-24T22:08:34.120Z: it is the clock of the shop's server",
            ],
            verdict.Steps.Select(s => $"{s.Outcome} {s.Code}: {s.Text}")
        );
        Assert.Equal(
            "valid: Ada Strand approved this version for production (Lindhag Screen Works, order HRC-104, version 3, 2026-11-24T22:08:34.120Z, evidence E0)",
            verdict.Summary
        );
        Assert.Equal(0, verdict.ExitCode);
    }

    [Fact]
    public async Task A_packet_nothing_outside_vouches_for_is_valid_in_itself_only()
    {
        var verdict = Samples.Verify(await Samples.Zip());

        Assert.Equal(2, verdict.ExitCode);
        Assert.StartsWith(
            "valid in itself, not anchored outside: Ada Strand approved",
            verdict.Summary,
            StringComparison.Ordinal
        );
        Assert.Contains(
            new VerifyStep(
                "anchored",
                StepOutcome.NotProven,
                "that the log is the shop's: give its key (--key), a receipt (--checkpoint) or a trust file (--trust) from elsewhere"
            ),
            verdict.Steps
        );
    }

    [Fact]
    public async Task A_packet_signed_by_a_key_other_than_the_one_given_is_not_valid()
    {
        var forger = new SigningKey(Samples.Origin, Samples.Bytes(32, 66));
        var forged = await Samples.Zip(Samples.Packet(key: forger));

        Assert.Equal(2, Samples.Verify(forged).ExitCode);
        Assert.Equal(
            $"not valid: the log is signed by {forger.Verifier}, not by a key you gave ({Samples.Key.Verifier})",
            Samples.Verify(forged, Samples.KnowingTheKey).Summary
        );
        Assert.Equal(
            $"not valid: your trust file has another key for {Samples.Origin}: {Samples.Key.Verifier}",
            Samples.Verify(forged, new([], [new(Samples.Key.Verifier)])).Summary
        );
    }

    [Fact]
    public async Task A_trust_file_that_knows_the_key_anchors_the_packet_and_one_of_strangers_does_not()
    {
        var zip = await Samples.Zip();
        var stranger = new SigningKey("other.example", Samples.Bytes(32, 4)).Verifier;

        Assert.Equal(0, Samples.Verify(zip, new([], [new(stranger), new(Samples.Key.Verifier)])).ExitCode);
        Assert.Equal(2, Samples.Verify(zip, new([], [new(stranger)])).ExitCode);
    }

    [Fact]
    public async Task A_checkpoint_kept_from_a_receipt_anchors_the_packet()
    {
        var note = TlogProof.Parse(Samples.Packet().DecisionProof).CheckpointNote;

        Assert.Equal(0, Samples.Verify(await Samples.Zip(), new([], [], note)).ExitCode);
    }

    [Fact]
    public async Task A_receipt_from_when_the_log_was_smaller_anchors_the_packet()
    {
        var (smaller, _) = Receipts();

        var verdict = Samples.Verify(await Samples.Zip(), new([], [], smaller));

        Assert.Equal(0, verdict.ExitCode);
        Assert.Contains(verdict.Steps, s => s.Text == "your receipt proves the same decision as entry 12 of the log");
    }

    [Fact]
    public async Task A_checkpoint_of_another_size_proves_nothing_alone()
    {
        var (smaller, _) = Receipts();

        var verdict = Samples.Verify(await Samples.Zip(), new([], [], TlogProof.Parse(smaller).CheckpointNote));

        Assert.Equal(2, verdict.ExitCode);
        Assert.Contains(
            verdict.Steps,
            s =>
                s.Text
                == "anything by your checkpoint: it is of 13 entries and the packet's of another size; give the .tlog-proof of the receipt instead"
        );
    }

    [Fact]
    public async Task A_fork_of_the_log_is_told_from_the_receipt()
    {
        var (_, forked) = Receipts();

        Assert.Equal(
            "not valid: your checkpoint has another root at 21 entries: the log was forked",
            Samples.Verify(await Samples.Zip(), new([], [], TlogProof.Parse(forked).CheckpointNote)).Summary
        );
        Assert.Equal(1, Samples.Verify(await Samples.Zip(), new([], [], forked)).ExitCode);
    }

    [Fact]
    public async Task The_same_packet_gives_the_same_bytes_and_the_length_told_before()
    {
        var zip = await Samples.Zip();

        Assert.Equal(zip, await Samples.Zip());
        Assert.Equal(zip.Length, PacketWriter.Length(Samples.Packet()));
    }

    // Second opinion: the archive reader of the platform sees the same files.
    [Fact]
    public async Task Any_archive_program_can_open_a_packet()
    {
        using var zip = new ZipArchive(new MemoryStream(await Samples.Zip()));

        Assert.Equal(
            [
                "README.txt",
                "data/manifest.json",
                "data/statement.json",
                "data/statement-text.en.txt",
                "proofs/keys.txt",
                "proofs/freeze.tlog-proof",
                "proofs/decision.tlog-proof",
                "record.html",
                "data/files/empty.json",
                "data/files/ink-list.json",
                "data/files/plates/01-white.tif",
                "data/files/plates/02-red.tif",
                "data/files/print.png",
                "data/files/recipe.json",
            ],
            zip.Entries.Select(e => e.FullName)
        );
        using var plate = new MemoryStream();
        await zip.GetEntry("data/files/plates/01-white.tif")!.Open().CopyToAsync(plate);
        Assert.Equal(Samples.Files["plates/01-white.tif"], plate.ToArray());
    }

    [Fact]
    public async Task Packing_it_again_with_another_program_is_told()
    {
        using var again = new MemoryStream();
        using (var target = new ZipArchive(again, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var source = new ZipArchive(new MemoryStream(await Samples.Zip()));
            foreach (var entry in source.Entries)
            {
                await using var to = target.CreateEntry(entry.FullName).Open();
                await entry.Open().CopyToAsync(to);
            }
        }

        Assert.Equal(
            "not valid: the header of README.txt at byte 0 is not as a packet has it",
            Samples.Verify(again.ToArray(), Samples.KnowingTheKey).Summary
        );
    }

    [Fact]
    public async Task What_is_no_packet_at_all_is_unreadable()
    {
        Assert.Equal(3, Samples.Verify([]).ExitCode);
        Assert.Equal(3, Samples.Verify("%PDF-1.7 and so on, long enough to be looked at in full"u8.ToArray()).ExitCode);
        Assert.Equal(
            "unreadable: this is not a packet (no archive that starts with README.txt)",
            Samples.Verify([1, 2, 3]).Summary
        );
        Assert.Equal(1, Samples.Verify((await Samples.Zip())[..^100]).ExitCode);
    }

    [Fact]
    public async Task An_archive_larger_than_allowed_is_not_read_on() =>
        Assert.Equal(
            "not valid: the archive is larger than the 4000 bytes allowed",
            Samples.Verify(await Samples.Zip(), VerifyOptions.Nothing with { MaxBytes = 4000 }).Summary
        );

    [Fact]
    public async Task A_file_that_is_not_the_one_bound_is_not_packed()
    {
        using var output = new MemoryStream();

        var refused = await Assert.ThrowsAsync<RecordFormatException>(() =>
            PacketWriter.WriteAsync(
                output,
                Samples.Packet(),
                f => new MemoryStream(f.Path == "recipe.json" ? "{\"seed\":8}"u8.ToArray() : Samples.Files[f.Path])
            )
        );

        Assert.Equal(
            "the packet cannot be sealed: recipe.json is not the file of the manifest (SHA-256 differs)",
            refused.Message
        );
        Assert.Equal(0, output.Length);
    }

    [Fact]
    public async Task A_packet_that_would_not_verify_is_not_written()
    {
        var packet = Samples.Packet() with { StatementText = Samples.Text("de") };

        var refused = await Assert.ThrowsAsync<RecordFormatException>(() => Samples.Zip(packet));

        Assert.StartsWith(
            "the packet cannot be sealed: the sentences in the packet (",
            refused.Message,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Requests_for_changes_and_withdrawals_are_packed_too()
    {
        var changes = Samples.Approval() with
        {
            Kind = DecisionKind.Changes,
            Confirmed = Confirmations.None,
            Changes = [new("word <ROWING>", "ROWERS & co")],
        };
        var withdrawal = Samples.Approval() with
        {
            Kind = DecisionKind.Withdraw,
            Confirmed = Confirmations.None,
            Withdraws = Sha256Digest.Of("x"u8),
        };

        Assert.Contains(
            "asked for changes",
            Samples.Verify(await Samples.Zip(Samples.Packet(changes)), Samples.KnowingTheKey).Summary,
            StringComparison.Ordinal
        );
        Assert.Contains(
            "took the earlier decision back",
            Samples.Verify(await Samples.Zip(Samples.Packet(withdrawal)), Samples.KnowingTheKey).Summary,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task The_page_for_people_shows_markup_as_text_and_loads_nothing()
    {
        var changes = Samples.Approval() with
        {
            Kind = DecisionKind.Changes,
            Confirmed = Confirmations.None,
            Changes = [new("<script>alert(1)</script>", "\"><img src=x>")],
        };
        using var zip = new ZipArchive(new MemoryStream(await Samples.Zip(Samples.Packet(changes))));
        using var reader = new StreamReader(zip.GetEntry("record.html")!.Open());

        var page = await reader.ReadToEndAsync();

        Assert.Contains("&lt;script&gt;alert(1)&lt;/script&gt;", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<img src=x", page, StringComparison.Ordinal);
        Assert.DoesNotContain("://", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(
        EvidenceLevel.Code,
        "who typed the name 'Ada Strand': anyone who read the mail of ada@harbour-rowing.example could (evidence E1)"
    )]
    [InlineData(
        EvidenceLevel.GivenElsewhere,
        "that the client said it: staff wrote down a decision given elsewhere (evidence S0)"
    )]
    public async Task What_the_evidence_does_not_prove_is_said(EvidenceLevel level, string text)
    {
        var evidence = new Evidence(
            level,
            "inv-1",
            level == EvidenceLevel.Code ? Samples.At : null,
            Elsewhere: level == EvidenceLevel.GivenElsewhere ? new("Kim", "telephone", Samples.At, null) : null
        );
        var zip = await Samples.Zip(Samples.Packet(Samples.Approval() with { Evidence = evidence }));

        Assert.Contains(
            Samples.Verify(zip, Samples.KnowingTheKey).Steps,
            s => s.Outcome == StepOutcome.NotProven && s.Text == text
        );
    }

    [Fact]
    public async Task What_staff_wrote_down_is_never_told_as_the_clients_own_decision()
    {
        var evidence = new Evidence(
            EvidenceLevel.GivenElsewhere,
            "none",
            Elsewhere: new("Kim", "telephone", Samples.At, null)
        );
        var zip = await Samples.Zip(Samples.Packet(Samples.Approval() with { Evidence = evidence }));

        Assert.StartsWith(
            "valid: Kim of the shop wrote down that Ada Strand approved this version for production (",
            Samples.Verify(zip, Samples.KnowingTheKey).Summary,
            StringComparison.Ordinal
        );
    }

    /// <summary>Receipts with the same key: one of the log at 13 entries, one of a log with another entry in it.</summary>
    private static (string Smaller, string Forked) Receipts()
    {
        var packet = Samples.Packet();
        var leaves = Enumerable.Range(0, 21).Select(i => MerkleTree.LeafHash(Samples.Bytes(8, i))).ToImmutableArray();
        leaves = leaves.SetItem(5, LogLeaf.Hash(LeafType.Freeze, Sha256Digest.Of(packet.Manifest.AsSpan())));
        leaves = leaves.SetItem(12, LogLeaf.Hash(LeafType.Decision, Sha256Digest.Of(packet.Statement.AsSpan())));
        return (Receipt(leaves[..13]), Receipt(leaves.SetItem(20, MerkleTree.LeafHash("another"u8))));
    }

    private static string Receipt(ImmutableArray<byte[]> leaves)
    {
        var tree = MerkleTree.Of(leaves);
        return TlogProof.Of(tree, 12, Checkpoint.Of(Samples.Origin, tree).Sign(Samples.Key)).Write();
    }
}
