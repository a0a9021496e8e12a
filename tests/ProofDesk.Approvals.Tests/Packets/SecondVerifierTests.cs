using System.Diagnostics;

namespace ProofDesk.Approvals.Tests.Packets;

/// <summary>A second opinion: a verifier in another language, written from the packet's own README.txt (check_packet.py).</summary>
public sealed class SecondVerifierTests
{
    [SkippableFact]
    public void A_verifier_written_from_the_readme_finds_the_kept_packet_valid() =>
        Assert.Equal("valid", Python("layout-1-approved.zip", Samples.Key.Verifier.ToString()));

    [SkippableFact]
    public void A_verifier_written_from_the_readme_finds_the_changed_byte() =>
        Assert.Equal(
            "a check sum does not fit",
            Python("layout-1-approved-one-byte-changed.zip", Samples.Key.Verifier.ToString())
        );

    [SkippableFact]
    public void A_verifier_written_from_the_readme_refuses_another_key() =>
        Assert.Equal(
            "the checkpoint is not signed by this key",
            Python(
                "layout-1-approved.zip",
                new Approvals.Log.SigningKey(Samples.Origin, Samples.Bytes(32, 6)).Verifier.ToString()
            )
        );

    private static string Python(string packet, string key)
    {
        var folder = Path.Combine(AppContext.BaseDirectory, "Packets");
        using var python = Started([Path.Combine(folder, "check_packet.py"), Path.Combine(folder, packet), key]);
        Skip.If(python is null, "python3 is not installed: the second verifier of packets was not run");
        var said = python!.StandardOutput.ReadToEnd().Trim();
        python.WaitForExit();
        return said;
    }

    private static Process? Started(string[] arguments)
    {
        try
        {
            return Process.Start(
                new ProcessStartInfo("python3", arguments) { RedirectStandardOutput = true, UseShellExecute = false }
            );
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
    }
}
