using ProofDesk.Approvals.Packets;

namespace ProofDesk.Approvals.Tests.Packets;

/// <summary>
/// Packets kept in this folder verify, or fail, for ever: files made by past versions are added, never changed.
/// PROOFDESK_WRITE_GOLDEN=1 writes a missing file into the folder of the test program, from where it is copied here.
/// </summary>
public sealed class GoldenPacketTests
{
    private const string Valid = "layout-1-approved.zip";
    private const string OneByteChanged = "layout-1-approved-one-byte-changed.zip";

    [Fact]
    public void The_kept_packet_is_valid_for_ever()
    {
        var verdict = Samples.Verify(Read(Valid), Samples.KnowingTheKey);

        Assert.Equal(
            "valid: Ada Strand approved this version for production (Lindhag Screen Works, order HRC-104, version 3, 2026-11-24T22:08:34.120Z, evidence E0)",
            verdict.Summary
        );
        Assert.Equal(0, verdict.ExitCode);
    }

    [Fact]
    public void The_kept_packet_with_one_byte_changed_is_not_valid_for_ever()
    {
        var (good, bad) = (Read(Valid), Read(OneByteChanged));

        Assert.Equal(1, good.Zip(bad).Count(pair => pair.First != pair.Second));
        Assert.Equal(good.Length, bad.Length);
        var verdict = Samples.Verify(bad, Samples.KnowingTheKey);
        Assert.Equal("not valid: plates/02-red.tif is not the file of the manifest (SHA-256 differs)", verdict.Summary);
        Assert.Equal(1, verdict.ExitCode);
    }

    // Other words on the pages, or another order of the files, need a new layout, so that kept packets stay valid.
    [Fact]
    public async Task The_writer_still_writes_the_kept_packet_byte_for_byte() =>
        Assert.Equal(Read(Valid), await Samples.Zip());

    private static byte[] Read(string name)
    {
        var path = Path.Combine(AppContext.BaseDirectory, "Packets", name);
        if (!File.Exists(path) && Environment.GetEnvironmentVariable("PROOFDESK_WRITE_GOLDEN") == "1")
        {
            var zip = Samples.Zip().GetAwaiter().GetResult();
            if (name == OneByteChanged)
            {
                zip[zip.AsSpan().IndexOf(Samples.Files["plates/02-red.tif"]) + 100] ^= 1;
            }

            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllBytes(path, zip);
        }

        return File.ReadAllBytes(path);
    }
}
