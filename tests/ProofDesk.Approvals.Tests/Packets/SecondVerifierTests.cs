namespace ProofDesk.Approvals.Tests.Packets;

/// <summary>A second opinion: a verifier in another language, written from the packet's own README.txt (check_packet.py).</summary>
public sealed class SecondVerifierTests
{
    [SkippableFact]
    public void A_verifier_written_from_the_readme_finds_the_kept_packet_valid() =>
        Assert.Equal("valid", Check("layout-1-approved.zip", Samples.Key.Verifier.ToString()));

    [SkippableFact]
    public void A_verifier_written_from_the_readme_finds_the_changed_byte() =>
        Assert.Equal(
            "a check sum does not fit",
            Check("layout-1-approved-one-byte-changed.zip", Samples.Key.Verifier.ToString())
        );

    [SkippableFact]
    public void A_verifier_written_from_the_readme_refuses_another_key() =>
        Assert.Equal(
            "the checkpoint is not signed by this key",
            Check(
                "layout-1-approved.zip",
                new Approvals.Log.SigningKey(Samples.Origin, Samples.Bytes(32, 6)).Verifier.ToString()
            )
        );

    private static string Check(string packet, string key) =>
        Python.Run(
            Path.Combine("Packets", "check_packet.py"),
            Path.Combine(AppContext.BaseDirectory, "Packets", packet),
            key
        );
}
