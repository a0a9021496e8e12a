using System.Globalization;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Cli;

/// <summary>`proofdesk screens`: what does one more screen buy?</summary>
internal static class ScreensCommand
{
    public const string Help = """
        usage: proofdesk screens ART --garment ID --colour ID[,ID...] --method simulated-process --width-mm N [options]
          --json              the table as JSON
          --most N            rows up to so many colours (10)
          --hour-rate N       what an hour of work costs the shop, in its own money
          --ink-rate N        what a kilogram of ink costs it; with both the table has a cost of one print
          and the options of 'proofdesk make' that decide about inks, base, press and quantity
        exit code: 0 done, 1 the art or the settings cannot do this, 2 not understood
        """;

    public static async Task<int> RunAsync(string[] args, TextWriter output, TextWriter error, CancellationToken cancel)
    {
        if (args is ["--help" or "-h"])
        {
            output.WriteLine(Help);
            return CommandLine.Done;
        }
        try
        {
            var rest = args.ToList();
            var json = rest.Remove("--json");
            var (hour, ink) = (Number(rest, "--hour-rate", 0, 100_000), Number(rest, "--ink-rate", 0, 100_000));
            var most = (int)(Number(rest, "--most", 1, ScreensTables.MostColours) ?? ScreensTables.MostColours);
            if (rest.Contains("--out"))
                throw new UsageProblem("'screens' writes no files, --out given", "the table goes to the output stream");
            var arguments = MakeArguments.Read([.. rest, "--out", "."]);
            var request = await MakeCommand.RequestAsync(arguments, error, cancel);
            var art = ArtSizing.Size(request.Art, request.Placement.WidthMm, request.Background);
            var table = ScreensTables.Of(
                art,
                request.Method,
                request.Grounds,
                request.Spot,
                request.Quantity,
                ScreenRates.CommonPractice(request.Spot.PressClass) with
                {
                    HourRate = hour,
                    InkRatePerKg = ink,
                },
                most
            );
            output.Write(json ? ScreensJson.Write(table) : ScreensText.Write(table));
            return CommandLine.Done;
        }
        catch (UsageProblem problem)
        {
            return CommandLine.Misunderstood(
                error,
                problem.Message,
                problem.Hint.Contains("make --help", StringComparison.Ordinal)
                    ? "hint: 'proofdesk screens --help' says how"
                    : $"hint: {problem.Hint}"
            );
        }
        catch (UnreadableArt problem)
        {
            error.WriteLine(problem.What);
            error.WriteLine($"hint: {problem.NextStep}");
        }
        catch (ProofRefused refused)
        {
            MakeCommand.Say(error, refused.Findings);
        }
        catch (OperationCanceledException)
        {
            error.WriteLine("stopped");
        }
        return CommandLine.Refused;
    }

    private static double? Number(List<string> args, string name, double least, double most)
    {
        var at = args.IndexOf(name);
        if (at < 0)
            return null;
        if (at + 1 == args.Count)
            throw new UsageProblem($"{name} needs a value");
        var text = args[at + 1];
        args.RemoveRange(at, 2);
        return
            double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            && number >= least
            && number <= most
            ? number
            : throw new UsageProblem($"{name} is a number from {least:0} to {most:0}; '{text}' given");
    }
}
