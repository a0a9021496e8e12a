using System.Diagnostics;
using System.Text;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>
/// Runs a drawing program inside the worker's own walls: same namespaces, same limits of memory, processor time and
/// file size, nothing on its standard input, and an end to its time.
/// </summary>
internal static class DrawingProgram
{
    /// <summary>Of what it says, only the beginning is kept.</summary>
    private const int MostText = 64 * 1024;

    /// <returns>What it said, on both streams.</returns>
    /// <exception cref="UnreadableArt">It took too long, or ended with an error.</exception>
    public static string Run(string program, string name, IEnumerable<string> arguments, string scratch, TimeSpan time)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
            WorkingDirectory = scratch,
        };
        foreach (var theirs in new[] { "GS_OPTIONS", "GS_LIB", "GS_LIB_DEFAULT", "GS_FONTPATH", "GS_DEVICE" })
            start.Environment.Remove(theirs);
        start.Environment["TMPDIR"] = start.Environment["TEMP"] = scratch;
        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{name} did not start");
        process.StandardInput.Close();
        var said = Task.Run(() => Keep(process.StandardOutput.BaseStream));
        var complained = Task.Run(() => Keep(process.StandardError.BaseStream));
        if (!process.WaitForExit(time))
        {
            process.Kill(entireProcessTree: true);
            throw new UnreadableArt(
                "pdf-drawing-too-slow",
                $"{name} took longer than {time.TotalSeconds:0} s to draw the page",
                "flatten it, or save the art as png with the program that made it and send that",
                null,
                Math.Round(time.TotalSeconds)
            );
        }
        process.WaitForExit();
        var text = said.Result + complained.Result;
        return process.ExitCode == 0 ? text : throw Failed(name, text);
    }

    /// <summary>The name with the first version number in what the program says of itself.</summary>
    internal static string WithVersion(string name, string said)
    {
        var word = said.Split([' ', '\n', '\r'], 40)
            .FirstOrDefault(w => w.Length is > 2 and < 20 && w.All(c => char.IsAsciiDigit(c) || c == '.'));
        return word is null ? name : $"{name} {word}";
    }

    internal static UnreadableArt Failed(string name, string log) =>
        new(
            "pdf-not-drawn",
            $"{name} could not draw the page within the limits of the picture reader",
            "export the pdf again from the program that made it, or save the art as png and send that"
        )
        {
            ForTheLog = log.Length > 2000 ? log[..2000] : log,
        };

    private static string Keep(Stream from)
    {
        var kept = new byte[MostText];
        var length = from.ReadAtLeast(kept, kept.Length, throwOnEndOfStream: false);
        var rest = new byte[4096];
        while (from.Read(rest) > 0) { }
        return Encoding.UTF8.GetString(kept, 0, length);
    }
}
