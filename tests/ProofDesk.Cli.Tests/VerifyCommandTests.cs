namespace ProofDesk.Cli.Tests;

/// <summary>`proofdesk verify` on the kept packets: exit code, each stream, whole texts.</summary>
public sealed class VerifyCommandTests : IDisposable
{
    private const string Key = "lindhag.example/proofs/1+7353cc81+AUwSk+gwW8BRqU5Qz1OR/1laT/QFiC4HGJRCTuETI1QT";
    private static readonly string Packets = Path.Combine(AppContext.BaseDirectory, "Packets");
    private static readonly string Valid = Path.Combine(Packets, "layout-1-approved.zip");
    private static readonly string Changed = Path.Combine(Packets, "layout-1-approved-one-byte-changed.zip");

    private readonly string folder = Directory.CreateTempSubdirectory("proofdesk-verify-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void A_valid_packet_and_the_shops_key_exit_with_0()
    {
        var (code, output, error) = Run(Valid, "--key", Key);

        Assert.Equal(
            """
            ok       manifest and statement are in their one canonical form
            ok       the statement names this manifest (a0207194)
            ok       the sentences shown, in language 'en', are those bound by manifest and statement
            ok       words, size and place, garments and counts, colours in their range: each was confirmed
            ok       the checkpoint of lindhag.example/proofs/1 with 21 entries is signed by lindhag.example/proofs/1+7353cc81+AUwSk+gwW8BRqU5Qz1OR/1laT/QFiC4HGJRCTuETI1QT
            ok       the manifest is entry 5 of that log
            ok       the statement is entry 12 of that log
            ok       record.html and README.txt say what the record says
            ok       all 6 files have the size, SHA-256 and SHA-512 of the manifest
            ok       the archive holds these files and not a byte more
            ok       the key lindhag.example/proofs/1+7353cc81 is one you gave
            unproven who typed the name 'Ada Strand': anyone who held the link mailed to ada@harbour-rowing.example could (evidence E0)
            unproven the time 2026-11-24T22:08:34.120Z: it is the clock of the shop's server
            valid: Ada Strand approved this version for production (Lindhag Screen Works, order HRC-104, version 3, 2026-11-24T22:08:34.120Z, evidence E0)

            """.ReplaceLineEndings(),
            output
        );
        Assert.Equal("", error);
        Assert.Equal(0, code);
    }

    [Fact]
    public void One_byte_changed_exits_with_1_whatever_is_known()
    {
        Assert.Equal(1, Run(Changed).Code);
        var (code, output, _) = Run(Changed, "--key", Key);

        Assert.Contains(
            Environment.NewLine + "WRONG    plates/02-red.tif is not the file of the manifest (SHA-256 differs)",
            output,
            StringComparison.Ordinal
        );
        Assert.EndsWith(
            "not valid: plates/02-red.tif is not the file of the manifest (SHA-256 differs)" + Environment.NewLine,
            output,
            StringComparison.Ordinal
        );
        Assert.Equal(1, code);
    }

    [Fact]
    public void Without_anything_from_elsewhere_a_valid_packet_exits_with_2()
    {
        var (code, output, _) = Run(Valid);

        Assert.Contains(
            "unproven that the log is the shop's: give its key (--key), a receipt (--checkpoint) or a trust file (--trust) from elsewhere",
            output,
            StringComparison.Ordinal
        );
        Assert.Equal(2, code);
    }

    [Fact]
    public void A_trust_file_beside_the_packet_is_found_and_named()
    {
        var packet = Path.Combine(folder, "packet.zip");
        File.Copy(Valid, packet);
        File.WriteAllText(
            Path.Combine(folder, "proofdesk.trust"),
            $"# keys of shops we know\n\n{Key}  # from the first receipt\n"
        );

        var (code, output, _) = Run(packet);

        Assert.StartsWith(
            $"trust    1 keys from {Path.Combine(folder, "proofdesk.trust")}",
            output,
            StringComparison.Ordinal
        );
        Assert.Equal(0, code);
        Assert.Equal(2, Run(packet, "--trust", "none").Code);
    }

    [Fact]
    public void The_proof_from_a_receipt_anchors_the_packet()
    {
        using var zip = System.IO.Compression.ZipFile.OpenRead(Valid);
        using var reader = new StreamReader(zip.GetEntry("proofs/decision.tlog-proof")!.Open());
        var receipt = Path.Combine(folder, "receipt.tlog-proof");
        File.WriteAllText(receipt, reader.ReadToEnd());

        Assert.Equal(0, Run(Valid, "--checkpoint", receipt).Code);
    }

    [Fact]
    public void What_cannot_be_read_exits_with_3()
    {
        var missing = Path.Combine(folder, "missing.zip");
        var other = Path.Combine(folder, "other.zip");
        File.WriteAllText(other, "not an archive");

        Assert.Equal((3, "", $"cannot read: could not find file '{missing}'{Environment.NewLine}"), Run(missing));
        Assert.Equal(
            (3, "unreadable: this is not a packet (no archive that starts with README.txt)" + Environment.NewLine, ""),
            Run(other)
        );
    }

    [Fact]
    public void A_packet_that_holds_no_recipe_cannot_be_made_again()
    {
        var (code, output, error) = Run(Valid, "--key", Key, "--rerender");

        Assert.Contains("valid: Ada Strand approved this version", output, StringComparison.Ordinal);
        Assert.Equal("cannot be made again: front/recipe.json is missing" + Environment.NewLine, error);
        Assert.Equal(3, code);
    }

    [Fact]
    public void A_packet_that_does_not_hold_is_not_made_again()
    {
        var (code, output, _) = Run(Changed, "--key", Key, "--rerender");

        Assert.EndsWith(
            "not made again: the packet itself does not hold" + Environment.NewLine,
            output,
            StringComparison.Ordinal
        );
        Assert.Equal(1, code);
    }

    [Theory]
    [InlineData("which packet?")]
    [InlineData("'--kee' is not an option of verify", "a.zip", "--kee", "x")]
    [InlineData("--key needs a value", "a.zip", "--key")]
    [InlineData("one packet at a time: got 'a.zip' and 'b.zip'", "a.zip", "b.zip")]
    public void A_wrong_call_says_how_to_call(string message, params string[] args)
    {
        var (code, output, error) = Run(args);

        Assert.StartsWith(message, error, StringComparison.Ordinal);
        Assert.Contains("usage: proofdesk verify PACKET.zip", error, StringComparison.Ordinal);
        Assert.Equal("", output);
        Assert.Equal(3, code);
    }

    private static (int Code, string Output, string Error) Run(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = VerifyCommand.RunAsync(args, output, error, CancellationToken.None).GetAwaiter().GetResult();
        return (code, output.ToString(), error.ToString());
    }
}
