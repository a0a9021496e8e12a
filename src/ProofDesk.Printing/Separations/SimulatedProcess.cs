using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations.Inverse;
using ProofDesk.Printing.Separations.Mixed;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Painted art in a few spot inks chosen for it, over a halftone base and under a highlight white where a ground is dark. All
/// screens share one angle (common practice), so dots lie on each other as far as the press holds register, and the plates are solved
/// with just that; stochastic dots fall independently of each other.
/// </summary>
internal static class SimulatedProcess
{
    /// <summary>Screens when nothing was asked for, whites included.</summary>
    public const int UsualScreens = 6;

    private const double TotalInk = 3;

    public static PrintMethod Method { get; } =
        new(
            "simulated-process",
            "Screen print, simulated process",
            InkKind.Plastisol,
            InkKind.Plastisol,
            "a few spot inks chosen for the picture, halftoned over a white base and under a highlight white: paintings and photographs on any cloth",
            ScreenSpot.FlashAndDryer
        )
        {
            Separate = Separate,
        };

    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        var whites = Whites(grounds, settings);
        var given = settings.Inks.Inks.Where(i => i.Role != InkRole.White).ToImmutableArray();
        var screens = given.Length > 0 ? given.Length + whites : settings.Inks.Count ?? UsualScreens;
        Finding[] refusals = [.. TonalChecks.Settings(method, settings), .. Count(screens, whites)];
        if (refusals.Length > 0)
            return TonalJobs.Refused(art, grounds, refusals);
        var flat = MixedSeparator.FlatOf(art, settings);
        var inks = given;
        if (given.IsEmpty)
        {
            var held = FlatInks.Wanted(
                flat,
                method,
                grounds,
                settings,
                FlatInks.Most(screens - whites, settings.Inks.Count is null)
            );
            // Nobody asked for a number: the first flat ink serves the picture as well, each further one is a screen more.
            if (settings.Inks.Count is null)
                screens += Math.Max(0, held.Length - 1);
            inks = Choose(MixedSeparator.Tones(art, flat), method, grounds, settings, screens - whites, held);
        }
        return MixedSeparator.Separate(
            art,
            Job(method, grounds, settings, inks),
            flat,
            together: 1,
            given.IsEmpty ? SolidInks.NearEnough : SolidInks.NearEnoughOfGiven,
            [Chosen(inks, given.Length > 0)]
        );
    }

    /// <summary>The inks a picture needs, from the shelf.</summary>
    internal static ImmutableArray<Ink> Choose(
        ImmutableArray<ToneShare> tones,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings,
        int count,
        IReadOnlyCollection<Ink>? held = null
    ) =>
        InkSelection.Choose(
            tones,
            inks => Job(method, grounds, settings, inks),
            [
                .. InkLibrary
                    .OfKind(method.ColourInk)
                    .Where(i =>
                        i.Role != InkRole.White
                        // On black cloth the cloth is the black.
                        && (i.Role != InkRole.Black || !grounds.All(IsBlack))
                        && !i.Id.StartsWith("opaque-", StringComparison.Ordinal)
                        && !i.Id.StartsWith("process-", StringComparison.Ordinal)
                    ),
            ],
            count,
            held ?? []
        );

    internal static TonalJob Job(
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings,
        ImmutableArray<Ink> colours
    )
    {
        var whites = Whites(grounds, settings);
        var plates = ImmutableArray.CreateBuilder<TonalPlate>();
        if (whites > 0)
        {
            var mesh = Meshes.Find("90-48")!;
            plates.Add(TonalJobs.Base(method, settings, ScreenOn(settings.BaseMesh ?? mesh), mesh));
        }
        // Light to dark, black last (common practice).
        foreach (var ink in colours.OrderBy(i => i.Role == InkRole.Black).ThenByDescending(Lightness))
            plates.Add(
                Top(AssumedInk.ShortName(ink, colours), PlatePurpose.Spot, ink, ink.Role == InkRole.Black ? 0.4 : 0.8)
            );
        if (whites > 0)
        {
            plates[^1] = plates[^1] with { FlashAfter = true };
            plates.Add(
                Top("Highlight white", PlatePurpose.HighlightWhite, InkLibrary.BaseWhite(method.ColourInk), 1.5)
            );
        }
        return new(
            method,
            grounds,
            settings,
            plates.ToImmutable(),
            TonalJobs.WhiteRuns(grounds, settings),
            InStep: settings.Dots == DotPlacement.Lattice,
            TotalInk + whites
        );

        TonalPlate Top(string name, PlatePurpose purpose, Ink ink, double cost)
        {
            var mesh = settings.ColourMesh ?? Meshes.FineHalftone;
            return new(name, purpose, ink, mesh, ScreenOn(mesh), cost, 1, false);
        }

        Screen ScreenOn(Mesh mesh) =>
            TonalJobs.Screen(
                settings,
                mesh,
                settings.LinesPerInch ?? settings.FinestLinesPerInch,
                settings.AngleDegrees,
                plates.Count
            );
    }

    private static bool IsBlack(Ground ground) => ClothShows.ByDefault(new(0, 0, 0), TonalJobs.Cloth(ground));

    private static int Whites(ImmutableArray<Ground> grounds, SpotSettings settings) =>
        TonalJobs.WhiteRuns(grounds, settings).Contains(true) ? 2 : 0;

    private static double Lightness(Ink ink)
    {
        var thick = Spectrum.Combine(
            ink.AbsorptionPerUm,
            ink.ScatteringPerUm,
            (k, s) => Presses.KubelkaMunk.Rinf(k / s)
        );
        return Math.Round(CieLab.FromXyz(Tristimulus.Of(thick, ViewingLight.D50), ViewingLight.D50).L / 4);
    }

    private static IEnumerable<Finding> Count(int screens, int whites)
    {
        if (screens > TonalJobs.MostPlates)
            yield return new(
                "too-many-screens",
                FindingWeight.Refusal,
                $"{screens} screens were asked for, {TonalJobs.MostPlates} can be solved together",
                $"ask for {TonalJobs.MostPlates} or fewer",
                screens,
                TonalJobs.MostPlates,
                "screens"
            );
        if (screens - whites < 1)
            yield return new(
                "too-few-screens",
                FindingWeight.Refusal,
                $"{screens} screens were asked for, base and highlight white take {whites}",
                $"ask for {whites + 1} or more",
                screens,
                whites + 1,
                "screens"
            );
    }

    private static Finding Chosen(ImmutableArray<Ink> inks, bool byHand) =>
        new(
            "inks-chosen",
            FindingWeight.Note,
            $"{inks.Length} inks {(byHand ? "were given" : "were chosen for this picture")}: {string.Join(", ", inks.Select(i => AssumedInk.ShortName(i, inks).ToLowerInvariant()))}",
            "nothing, or list the inks by name"
        );
}
