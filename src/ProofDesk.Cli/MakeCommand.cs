using System.Collections.Immutable;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Codecs.Layers;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.TestForms;

namespace ProofDesk.Cli;

/// <summary>`proofdesk make`: art in, pictures, plates and ink list out.</summary>
internal static class MakeCommand
{
    public static async Task<int> RunAsync(string[] args, TextWriter output, TextWriter error, CancellationToken cancel)
    {
        if (args is ["--help" or "-h"])
        {
            output.WriteLine(MakeArguments.Help);
            return CommandLine.Done;
        }
        try
        {
            var arguments = MakeArguments.Read(args);
            var request = await RequestAsync(arguments, error, cancel);
            Directory.CreateDirectory(arguments.Out);
            var proof = ProofMaker.Make(request, null, cancel);
            Say(error, proof.Findings);
            ProofFiles.Write(proof, arguments, output, cancel);
            return CommandLine.Done;
        }
        catch (UsageProblem problem)
        {
            return CommandLine.Misunderstood(error, problem.Message, $"hint: {problem.Hint}");
        }
        catch (UnreadableArt problem)
        {
            error.WriteLine(problem.What);
            error.WriteLine($"hint: {problem.NextStep}");
        }
        catch (ProofRefused refused)
        {
            Say(error, refused.Findings);
            await File.WriteAllTextAsync(
                Path.Combine(MakeArguments.Read(args).Out, "findings.json"),
                FindingsJson.Write(refused.Findings),
                cancel
            );
        }
        catch (OperationCanceledException)
        {
            error.WriteLine("stopped");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            error.WriteLine($"cannot write: {char.ToLowerInvariant(e.Message[0])}{e.Message[1..].TrimEnd('.')}");
        }
        return CommandLine.Refused;
    }

    public static async Task<ProofRequest> RequestAsync(
        MakeArguments arguments,
        TextWriter error,
        CancellationToken cancel
    )
    {
        if (!File.Exists(arguments.Art) && !Directory.Exists(arguments.Art))
            throw new UsageProblem($"there is no file '{arguments.Art}'");
        var method = Method(arguments.Method);
        var grounds = Grounds(arguments, await GarmentArgument.ReadAsync(arguments.Garment, cancel));
        var inks = InkFile.Read(arguments.Inks, error);
        var roster = RosterArgument.Read(arguments);
        var byHand = ByHandArgument.Read(arguments);
        var art = await ArtAsync(arguments, cancel);
        var under = arguments.Under is { } below ? await UnderAsync(below, arguments, grounds, cancel) : null;
        return new(art, grounds[0].Garment.Usual(arguments.Place, arguments.WidthMm), method, grounds)
        {
            Background = arguments.Background,
            Spot = new()
            {
                Inks = InkRulesArgument.Read(arguments, inks, error),
                Base = arguments.Base,
                PrintFlashPrint = arguments.BaseFlash,
                BlockingBase = arguments.BlockingBase,
                FlatAreas = arguments.FlatAreas,
                LinesPerInch = arguments.LinesPerInch,
                AngleDegrees = arguments.AngleDegrees,
                Dots = arguments.Dots,
                StochasticDotUm = arguments.StochasticDotUm,
                Layers = arguments.Layers,
                PressClass = arguments.PressClass,
                Press = Press(arguments.PressFile),
            },
            Device = DeviceArgument.Read(arguments),
            Layout = arguments.Layout,
            Roster = roster,
            HandWork = byHand,
            Under = under,
            GarmentPixelsPerMm = arguments.GarmentPixelsPerMm,
            Seed = arguments.Seed,
            Quantity = arguments.Quantity,
            GarmentSize = arguments.Size,
            WithRange = arguments.Range,
            HeadByHead = arguments.HeadByHead,
        };
    }

    /// <summary>A folder of pictures is read as the zip that it would be.</summary>
    private static async Task<Artwork> ArtAsync(MakeArguments arguments, CancellationToken cancel)
    {
        var decoder = new ArtDecoder();
        var wish = new ArtWish(arguments.WidthMm) { Page = arguments.Page };
        return Directory.Exists(arguments.Art)
            ? await decoder.DecodeAsync(PictureFolder.Packed(arguments.Art, decoder.Limits), wish, cancel)
            : await decoder.DecodeAsync(arguments.Art, wish, cancel);
    }

    private static PressSettings Press(string? file)
    {
        if (file is null)
            return PressSettings.Automatic;
        if (!File.Exists(file))
            throw new UsageProblem($"there is no file '{file}'", "'proofdesk press-fit' writes the shop's own press");
        try
        {
            return PressJson.Read(File.ReadAllText(file), file).Press;
        }
        catch (ReadingSheetProblem problem)
        {
            throw new UsageProblem(problem.Message, problem.NextStep);
        }
    }

    private static async Task<ProofRequest> UnderAsync(
        string file,
        MakeArguments arguments,
        ImmutableArray<Ground> grounds,
        CancellationToken cancel
    )
    {
        if (!File.Exists(file))
            throw new UsageProblem($"there is no file '{file}'");
        var art = await new ArtDecoder().DecodeAsync(file, arguments.UnderWidthMm, cancel);
        var place = arguments.Place.Side() == GarmentSide.Back ? Place.AllOverBack : Place.AllOverFront;
        return new(art, new(place, 0, 0, arguments.UnderWidthMm), Method("all-over-belt"), grounds)
        {
            Background = BackgroundChoice.Print,
            GarmentPixelsPerMm = arguments.GarmentPixelsPerMm,
            Seed = arguments.Seed,
        };
    }

    private static PrintMethod Method(string id) =>
        PrintMethods.Find(id)
        ?? throw new UsageProblem(
            $"no method '{id}'{Nearest.Guess(id, PrintMethods.All.Select(m => m.Id))}",
            $"there are {string.Join(", ", PrintMethods.All.Select(m => m.Id))}"
        );

    private static ImmutableArray<Ground> Grounds(MakeArguments arguments, Garment garment)
    {
        // A garment of one size is shown in that.
        if (garment.Sizes.Length > 1 && garment.Size(arguments.Size) is null)
            throw new UsageProblem(
                $"'{garment.Id}' has no size '{arguments.Size}'",
                $"it has {string.Join(", ", garment.Sizes.Select(s => s.Size))}"
            );
        var colours = garment.Colours.Select(c => c.Id).ToArray();
        var twice = arguments.Colours.GroupBy(c => c).FirstOrDefault(g => g.Count() > 1);
        if (twice is not null)
            throw new UsageProblem($"--colour names '{twice.Key}' twice");
        if (arguments.Colours.Length == 0)
            throw new UsageProblem("--colour names no colour", $"'{garment.Id}' has {string.Join(", ", colours)}");
        return
        [
            .. arguments.Colours.Select(id => new Ground(
                garment,
                garment.Colour(id)
                    ?? throw new UsageProblem(
                        $"'{garment.Id}' has no colour '{id}'{Nearest.Guess(id, colours)}",
                        $"it has {string.Join(", ", colours)}"
                    )
            )),
        ];
    }

    public static void Say(TextWriter error, ImmutableArray<Finding> findings)
    {
        foreach (var finding in findings.OrderByDescending(f => f.Weight))
        {
            error.WriteLine($"{finding.Weight.ToString().ToLowerInvariant()}: {finding.Message}");
            error.WriteLine($"  hint: {finding.NextStep}");
        }
    }
}
