using System.Text;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Garments;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.TestForms;

namespace ProofDesk.Cli;

/// <summary>`proofdesk press-fit`: readings or scans of the test form in, the shop's press out.</summary>
internal static class PressFitCommand
{
    public const string Help = """
        usage: proofdesk press-fit READINGS.json [READINGS.json ...] [--scan PNG[,PNG]] [--name NAME] --out PRESS.json
          READINGS.json   the sheet that 'proofdesk test-form' wrote, filled in; one for each mesh
          --scan PNG[,PNG] scans of sheets 1, 2, ... of the first form, plain sRGB, 300 to 600 ppi
          --name NAME     what the press is called (our press)
        'proofdesk make ... --press PRESS.json' prints with it; exit code: 0 done, 1 the readings cannot be so, 2 not understood
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
            var given = Options.Read(args, ["--scan", "--name", "--out"], 20);
            var to = given.Needed("--out");
            if (given.Words.Count == 0)
                throw new UsageProblem("the readings are missing", "'proofdesk press-fit --help' lists the options");
            var catalogue = GarmentCatalogue.Load(GarmentCatalogue.ShippedFolder);
            var forms = given.Words.Select(file => Readings(file, catalogue)).ToList();
            var scans = given.List("--scan", "");
            for (var i = 0; i < scans.Length; i++)
                forms[0] = forms[0]
                    .With(
                        ScanReading.Read(
                            await PictureAsync(scans[i], cancel),
                            forms[0].Form,
                            forms[0].Ground,
                            new(i == 0 ? ScannedSheet.Whole : ScannedSheet.Register, i + 1)
                        )
                    );
            var fitted = PressFit.Fit(forms, PressSettings.Automatic, given.Value("--name", "our press"));
            await File.WriteAllTextAsync(to, PressJson.Write(fitted), new UTF8Encoding(false), cancel);
            Say(fitted, output, error);
            return CommandLine.Done;
        }
        catch (UsageProblem problem)
        {
            return CommandLine.Misunderstood(error, problem.Message, $"hint: {problem.Hint}");
        }
        catch (ReadingSheetProblem problem)
        {
            error.WriteLine(problem.Message);
            error.WriteLine($"hint: {problem.NextStep}");
        }
        catch (ScanProblem problem)
        {
            error.WriteLine(problem.Message);
            error.WriteLine($"hint: {problem.NextStep}");
        }
        catch (UnreadableArt problem)
        {
            error.WriteLine(problem.What);
            error.WriteLine($"hint: {problem.NextStep}");
        }
        catch (ReadingsRefused refused)
        {
            foreach (var finding in refused.Findings)
            {
                error.WriteLine(finding.Message);
                error.WriteLine($"  hint: {finding.NextStep}");
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            error.WriteLine($"cannot write: {char.ToLowerInvariant(e.Message[0])}{e.Message[1..].TrimEnd('.')}");
        }
        return CommandLine.Refused;
    }

    private static PressReadings Readings(string file, GarmentCatalogue catalogue) =>
        !File.Exists(file)
            ? throw new UsageProblem($"there is no file '{file}'", "'proofdesk test-form' writes a blank sheet")
            : ReadingSheetJson.Read(
                File.ReadAllText(file),
                file,
                (garment, colour) =>
                    catalogue.Find(garment) is { } found && found.Colour(colour) is { } cloth
                        ? new Ground(found, cloth)
                        : null
            );

    /// <summary>Strangers' pictures are decoded in the worker; a scan comes back as the sRGB it was.</summary>
    private static async Task<RgbPicture> PictureAsync(string file, CancellationToken cancel)
    {
        if (!File.Exists(file))
            throw new UsageProblem($"there is no file '{file}'", "scan the printed form at 300 to 600 ppi");
        return ScanPicture.Of(await new ArtDecoder().DecodeAsync(file, 300, cancel));
    }

    private static void Say(FittedPress fitted, TextWriter output, TextWriter error)
    {
        foreach (var n in fitted.Numbers)
            output.WriteLine(
                FormattableString.Invariant(
                    $"{n.Words}: {n.Value:0.###}{(n.Unit == "" ? "" : " ")}{n.Unit} (usual {n.Usual:0.###}), class {n.DataClass}, from {n.From}"
                )
            );
        foreach (var unknown in fitted.CannotTell)
            output.WriteLine($"not known: {unknown}");
        foreach (var finding in fitted.Findings)
        {
            error.WriteLine($"warning: {finding.Message}");
            error.WriteLine($"  hint: {finding.NextStep}");
        }
    }
}
