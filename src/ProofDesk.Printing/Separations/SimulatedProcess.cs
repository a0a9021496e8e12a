using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations.Choices;
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
    /// <summary>Screens when nothing was asked for, whites included; a count that is asked for is of colours.</summary>
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
        var given = Given(settings);
        var flat = MixedSeparator.FlatOf(art, settings);
        var colours = given.Length > 0 ? given.Length : Colours(flat, method, grounds, settings);
        Finding[] refusals =
        [
            .. TonalChecks.Settings(method, settings),
            .. Count(colours, whites),
            .. given.IsEmpty && Shelf(method, grounds, settings).IsEmpty
                ?
                [
                    InkRuleChecks.NoInkLeft(
                        method,
                        Shelf(method, grounds, settings with { Inks = InkChoice.Automatic })
                    ),
                ]
                : Enumerable.Empty<Finding>(),
        ];
        if (refusals.Length > 0)
            return TonalJobs.Refused(art, grounds, refusals);
        var held = given.IsEmpty ? Held(flat, method, grounds, settings, colours) : [];
        var inks = given.IsEmpty
            ? Choose(MixedSeparator.Tones(art, flat), method, grounds, settings, colours, held)
            : given;
        return MixedSeparator.Separate(
            art,
            Job(method, grounds, settings, inks),
            flat,
            together: 1,
            given.IsEmpty ? SolidInks.NearEnough : SolidInks.NearEnoughOfGiven,
            [Chosen(inks, given.Length > 0), .. InkRuleChecks.Unused(settings, inks)]
        );
    }

    /// <summary>
    /// Colours that are chosen when none are listed. Where nobody asked for a number, the first flat ink serves the picture as
    /// well, each further one is a screen more.
    /// </summary>
    internal static int Colours(FlatArt flat, PrintMethod method, ImmutableArray<Ground> grounds, SpotSettings settings)
    {
        if (settings.Inks.Count is { } count)
            return count;
        var whites = Whites(grounds, settings);
        var usual = Math.Max(UsualScreens - whites, settings.Inks.Rules?.Must.Length ?? 0);
        var flats = FlatInks.Wanted(flat, method, grounds, settings, FlatInks.Most(usual, free: true)).Length;
        return Math.Clamp(usual + flats - 1, usual, Math.Max(usual, TonalJobs.MostPlates - whites));
    }

    /// <summary>Inks that flat parts of the art ask for in a set of so many colours.</summary>
    internal static ImmutableArray<Ink> Held(
        FlatArt flat,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings,
        int colours
    ) => FlatInks.Wanted(flat, method, grounds, settings, FlatInks.Most(colours, free: false));

    /// <summary>Inks listed by name, white apart.</summary>
    internal static ImmutableArray<Ink> Given(SpotSettings settings) =>
        [.. settings.Inks.Inks.Where(i => i.Role != InkRole.White)];

    /// <summary>The inks a picture needs, from the shelf and by the shop's rules.</summary>
    internal static ImmutableArray<Ink> Choose(
        ImmutableArray<ToneShare> tones,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings,
        int count,
        ImmutableArray<Ink>? held = null
    ) => Ladder(tones, method, grounds, settings, held ?? [], count)[^1];

    /// <summary>The same for every count up to <paramref name="most"/>.</summary>
    internal static ImmutableArray<ImmutableArray<Ink>> Ladder(
        ImmutableArray<ToneShare> tones,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings,
        ImmutableArray<Ink> held,
        int most
    ) =>
        InkSelection.Ladder(
            tones,
            inks => Job(method, grounds, settings, inks),
            Shelf(method, grounds, settings),
            settings.Inks.Rules?.Must ?? [],
            held,
            most
        );

    internal static ImmutableArray<Ink> Shelf(
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    ) =>
        (settings.Inks.Rules ?? InkRules.None).Shelf(
            InkLibrary
                .OfKind(method.ColourInk)
                .Where(i =>
                    i.Role != InkRole.White
                    // On black cloth the cloth is the black.
                    && (i.Role != InkRole.Black || !grounds.All(IsBlack))
                    && !i.Id.StartsWith("opaque-", StringComparison.Ordinal)
                    && !i.Id.StartsWith("process-", StringComparison.Ordinal)
                )
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
        // Light to dark, black last (common practice), unless the shop orders them otherwise.
        ImmutableArray<Ink> usual = [.. colours.OrderBy(i => i.Role == InkRole.Black).ThenByDescending(Lightness)];
        foreach (var ink in settings.Inks.Rules?.InOrder(usual, i => i.Id) ?? usual)
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

    /// <summary>Screens that base and highlight white take.</summary>
    internal static int Whites(ImmutableArray<Ground> grounds, SpotSettings settings) =>
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

    private static IEnumerable<Finding> Count(int colours, int whites)
    {
        if (colours + whites > TonalJobs.MostPlates)
            yield return new(
                "too-many-screens",
                FindingWeight.Refusal,
                whites > 0
                    ? $"{colours} colours over base and under highlight white are {colours + whites} screens, {TonalJobs.MostPlates} can be solved together"
                    : $"{colours} colours are {colours} screens, {TonalJobs.MostPlates} can be solved together",
                $"ask for {TonalJobs.MostPlates - whites} colours or fewer",
                colours + whites,
                TonalJobs.MostPlates,
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
