using System.IO.Compression;
using System.Text.Json;
using ProofDesk.Approvals.Packets;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Cli;

/// <summary>
/// `proofdesk scan PACKET.zip CODE`: what the square code on a film says against a sealed packet, without the server. A packet cannot
/// know that a newer version came later; the answer says so.
/// </summary>
internal static class ScanCommand
{
    private const string SummaryPath = "data/files/summary.json";

    private const string Usage = """
        usage: proofdesk scan PACKET.zip CODE
          CODE   the text of the square code: ORDER/PRINT/VERSION/SCREEN/SHORT
        exit code: 0 the film is of the approved version in the packet, 1 STOP, 2 the command was not understood
        """;

    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        if (args is ["--help"] or ["-h"])
        {
            output.WriteLine(Usage);
            return CommandLine.Done;
        }
        if (args is not [var packet, var text])
        {
            error.WriteLine(Usage);
            return CommandLine.Usage;
        }
        try
        {
            var (isGo, answer) = Answer(packet, text);
            output.WriteLine(answer);
            return isGo ? CommandLine.Done : CommandLine.Refused;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or InvalidDataException)
        {
            error.WriteLine($"cannot read {packet}: {char.ToLowerInvariant(e.Message[0])}{e.Message[1..]}");
            return CommandLine.Usage;
        }
    }

    private static (bool IsGo, string Text) Answer(string path, string text)
    {
        using var file = File.OpenRead(path);
        var verdict = PacketVerifier.Verify(file, VerifyOptions.Nothing);
        if (verdict.Manifest is not { } manifest || verdict.Kind is VerdictKind.NotValid or VerdictKind.Unreadable)
        {
            return (false, $"STOP: the packet itself does not hold: {verdict.Summary}");
        }
        if (FilmCode.Parse(text) is not { } code)
        {
            return (false, $"STOP: '{text}' is no square code of a film, such as 1001/front/3/2/3F2A-91C0");
        }
        if (code.Order != manifest.Order || code.Version != $"{manifest.Version}")
        {
            return (
                false,
                $"STOP: the film is of order {code.Order}, version {code.Version}; the packet is of order {manifest.Order}, version {manifest.Version}"
            );
        }
        file.Position = 0;
        if (Plate(file, code) is not var (ink, screens))
        {
            return (
                false,
                $"STOP: version {manifest.Version} has no film {code.Print}, screen {code.Screen}, {code.Short}"
            );
        }
        return (
            true,
            $"version {manifest.Version}, approved by {verdict.Statement!.Name}, screen {code.Screen} of {screens}: {ink}\n"
                + "as of this packet; whether a newer version is out only the shop's server knows"
        );
    }

    private static (string Ink, int Screens)? Plate(Stream packet, FilmCode code)
    {
        using var zip = new ZipArchive(packet, ZipArchiveMode.Read, leaveOpen: true);
        var entry = zip.GetEntry(SummaryPath) ?? throw new InvalidDataException($"the packet holds no {SummaryPath}");
        using var json = entry.Open();
        using var summary = JsonDocument.Parse(json);
        foreach (var print in summary.RootElement.GetProperty("prints").EnumerateArray())
        {
            var plates = print.GetProperty("plates");
            foreach (var plate in plates.EnumerateArray())
            {
                if (
                    print.GetProperty("name").GetString() == code.Print
                    && plate.GetProperty("screen").GetInt32() == code.Screen
                    && FilmCode.ShortOf(plate.GetProperty("sha256").GetString()!) == code.Short
                )
                {
                    return (plate.GetProperty("ink").GetString()!, plates.GetArrayLength());
                }
            }
        }
        return null;
    }
}
