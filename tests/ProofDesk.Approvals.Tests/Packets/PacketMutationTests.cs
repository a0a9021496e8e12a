using System.Text;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Packets;
using static ProofDesk.Approvals.Tests.Packets.Archives;

namespace ProofDesk.Approvals.Tests.Packets;

/// <summary>
/// Nothing in a packet can be changed without the verifier saying so. Every check runs with the shop's key known, so a
/// missed change would be exit code 0. PROOFDESK_LONG=1 runs every byte and 10,000 random changes.
/// </summary>
public sealed class PacketMutationTests
{
    private static readonly bool Long = Environment.GetEnvironmentVariable("PROOFDESK_LONG") == "1";

    [Fact]
    public async Task Changing_any_one_byte_is_not_valid()
    {
        var zip = await Samples.Zip();
        var step = Long ? 1 : 23;
        for (var i = 0; i < zip.Length; i += step)
        {
            foreach (var bits in Long ? new byte[] { 0x01, 0x20, 0x80, 0xff } : [(byte)(1 << (i % 8))])
            {
                byte[] bent = [.. zip];
                bent[i] ^= bits;
                Found(bent, 1, $"byte {i} xor {bits:x2}");
            }
        }
    }

    [Fact]
    public async Task Changing_any_byte_of_the_archives_own_structure_is_not_valid()
    {
        var zip = await Samples.Zip();
        var directory = BitConverter.ToInt32(zip, zip.Length - 6);
        int[] first = [.. Enumerable.Range(0, 40)];
        foreach (
            var i in first.Concat(Enumerable.Range(directory, zip.Length - directory).Where(i => Long || i % 5 == 0))
        )
        {
            byte[] bent = [.. zip];
            bent[i] ^= 0x10;
            Found(bent, 1, $"byte {i}");
        }
    }

    public static TheoryData<string> Classes => [.. Kinds];

    internal static readonly string[] Kinds =
    [
        "flip a bit",
        "set a byte",
        "insert a byte",
        "delete a byte",
        "swap neighbours",
        "double a block",
        "delete a block",
        "swap blocks",
        "zero a block",
        "cut the end",
        "add to the end",
        "add to the start",
    ];

    [Theory]
    [MemberData(nameof(Classes))]
    public async Task Random_changes_of_every_class_are_found(string kind)
    {
        var zip = await Samples.Zip();
        var random = new Random(20261124);
        for (var round = 0; round < (Long ? 1000 : 40); round++)
        {
            var bent = Bend(kind, zip, random);
            if (!bent.AsSpan().SequenceEqual(zip))
            {
                Found(bent, null, $"{kind}, round {round}");
            }
        }
    }

    public static TheoryData<string> Entries =>
        [
            "README.txt",
            "data/manifest.json",
            "data/statement.json",
            "data/statement-text.en.txt",
            "proofs/keys.txt",
            "proofs/freeze.tlog-proof",
            "proofs/decision.tlog-proof",
            "record.html",
            "data/files/print.png",
            "data/files/plates/01-white.tif",
            "data/files/empty.json",
        ];

    // These archives are well formed, with fitting check sums: only the record's own digests can tell.
    [Theory]
    [MemberData(nameof(Entries))]
    public async Task A_file_changed_removed_doubled_or_renamed_in_a_well_formed_archive_is_found(string name)
    {
        var files = Unpack(await Samples.Zip());
        var at = files.FindIndex(f => f.Name == name);

        Found(
            Pack([.. files.Select(f => f.Name == name ? (f.Name, [.. f.Bytes, (byte)'\n']) : f)]),
            1,
            "a line end added"
        );
        Found(Pack([.. files.Where(f => f.Name != name)]), null, "removed");
        Found(Pack([.. files.Take(at + 1), files[at], .. files.Skip(at + 1)]), 1, "doubled");
        Found(Pack([.. files.Select(f => f.Name == name ? (f.Name + "x", f.Bytes) : f)]), null, "renamed");
        if (files[at].Bytes.Length > 0)
        {
            Found(Pack([.. files.Select(f => f.Name == name ? (f.Name, f.Bytes[1..]) : f)]), 1, "a byte removed");
        }
    }

    [Fact]
    public async Task A_file_too_many_is_found()
    {
        var files = Unpack(await Samples.Zip());

        Found(Pack([.. files, ("data/files/zz.txt", "more"u8.ToArray())]), 1, "at the end");
        Found(
            Pack([.. files[..8], ("data/files/../../x", "more"u8.ToArray()), .. files[8..]]),
            1,
            "with a climbing path"
        );
    }

    [Fact]
    public async Task Two_files_swapped_are_found()
    {
        var files = Unpack(await Samples.Zip());
        var swapped = files.Select(f =>
            f.Name switch
            {
                "data/files/plates/01-white.tif" => (
                    f.Name,
                    files.Find(o => o.Name == "data/files/plates/02-red.tif").Bytes
                ),
                "data/files/plates/02-red.tif" => (
                    f.Name,
                    files.Find(o => o.Name == "data/files/plates/01-white.tif").Bytes
                ),
                _ => f,
            }
        );

        Found(Pack([.. swapped]), 1, "plates swapped");
    }

    public static TheoryData<string, string, string> Forgeries =>
        new()
        {
            { "data/manifest.json", "\"pieces\":20", "\"pieces\":21" },
            { "data/manifest.json", "\"widthUm\":280000", "\"widthUm\":270000" },
            { "data/manifest.json", "HARBOUR", "HARBOR" },
            { "data/manifest.json", "dots bound", "tones bound, dots simulated" },
            { "data/statement.json", "\"level\":\"E0\"", "\"level\":\"S0\"" },
            { "data/statement.json", "Ada Strand", "Ada Strang" },
            { "data/statement.json", "\"decision\":\"approve\"", "\"decision\":\"withdraw\"" },
            { "data/statement.json", "\"words\":true", "\"words\":false" },
            { "data/statement.json", "22:08:34.120Z", "21:08:34.120Z" },
            { "proofs/decision.tlog-proof", "index 12", "index 13" },
            { "proofs/decision.tlog-proof", "\nindex 12", "\nextra aGludA==\nindex 12" },
            { "proofs/freeze.tlog-proof", "\n21\n", "\n22\n" },
            { "record.html", "Ada Strand", "Bo Lind" },
            { "README.txt", "version 3", "version 4" },
        };

    [Theory]
    [MemberData(nameof(Forgeries))]
    public async Task A_forged_value_in_a_well_formed_archive_is_found(string name, string from, string to)
    {
        var files = Unpack(await Samples.Zip());
        var text = Encoding.UTF8.GetString(files.Find(f => f.Name == name).Bytes);
        Assert.Contains(from, text, StringComparison.Ordinal);

        Found(
            Pack([
                .. files.Select(f =>
                    f.Name == name
                        ? (f.Name, Encoding.UTF8.GetBytes(text.Replace(from, to, StringComparison.Ordinal)))
                        : f
                ),
            ]),
            1,
            to
        );
    }

    [Fact]
    public async Task A_forger_who_builds_everything_anew_is_found_by_the_key()
    {
        var forged = Samples.Approval() with { Name = "Somebody Else" };

        var zip = await Samples.Zip(Samples.Packet(forged, new SigningKey(Samples.Origin, Samples.Bytes(32, 5))));

        Assert.Equal(2, Samples.Verify(zip).ExitCode);
        Found(zip, 1, "another key");
    }

    [Fact]
    public async Task A_key_that_signed_nothing_is_found()
    {
        var idle = new SigningKey("witness.example", Samples.Bytes(32, 8)).Verifier;
        var refused = await Assert.ThrowsAsync<RecordFormatException>(() =>
            Samples.Zip(Samples.Packet() with { Keys = [Samples.Key.Verifier, idle] })
        );

        Assert.Equal(
            $"the packet cannot be sealed: the key {idle} stands in proofs/keys.txt but signed nothing",
            refused.Message
        );
    }

    private static void Found(byte[] bent, int? exitCode, string what)
    {
        var verdict = Samples.Verify(bent, Samples.KnowingTheKey);
        Assert.True(verdict.ExitCode is 1 or 3, $"{what}: exit {verdict.ExitCode}, {verdict.Summary}");
        Assert.True(
            exitCode is null || verdict.ExitCode == exitCode,
            $"{what}: exit {verdict.ExitCode} instead of {exitCode}, {verdict.Summary}"
        );
    }

    internal static byte[] Bend(string kind, byte[] zip, Random random)
    {
        var at = random.Next(zip.Length - 64);
        var to = random.Next(zip.Length - 64);
        var length = random.Next(1, 64);
        var block = zip[at..(at + length)];
        byte[] bent = [.. zip];
        switch (kind)
        {
            case "flip a bit":
                bent[at] ^= (byte)(1 << random.Next(8));
                return bent;
            case "set a byte":
                bent[at] = (byte)random.Next(256);
                return bent;
            case "insert a byte":
                return [.. zip[..at], (byte)random.Next(256), .. zip[at..]];
            case "delete a byte":
                return [.. zip[..at], .. zip[(at + 1)..]];
            case "swap neighbours":
                (bent[at], bent[at + 1]) = (bent[at + 1], bent[at]);
                return bent;
            case "double a block":
                return [.. zip[..at], .. block, .. zip[at..]];
            case "delete a block":
                return [.. zip[..at], .. zip[(at + length)..]];
            case "swap blocks":
                zip[to..(to + length)].CopyTo(bent, at);
                block.CopyTo(bent, to);
                return bent;
            case "zero a block":
                Array.Clear(bent, at, length);
                return bent;
            case "cut the end":
                return zip[..^length];
            case "add to the end":
                return [.. zip, .. block];
            default:
                return [.. block, .. zip];
        }
    }

    [Fact]
    public async Task The_packer_of_these_tests_makes_real_packets()
    {
        var zip = await Samples.Zip();

        Assert.Equal(zip, Pack(Unpack(zip)));
    }

    [Fact]
    public async Task A_valid_log_entry_of_an_incomplete_approval_is_not_valid()
    {
        var half = Samples.Approval() with { Confirmed = Confirmations.All with { Words = false } };
        var refused = await Assert.ThrowsAsync<RecordFormatException>(() => Samples.Zip(Samples.Packet(half)));

        Assert.Equal(
            "the packet cannot be sealed: the statement is not a complete decision: words-unconfirmed",
            refused.Message
        );
    }
}
