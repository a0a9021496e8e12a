using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Printing.Separations.Difficult;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations;

/// <summary>What the separator says about colours, plates and press.</summary>
internal static class SeparationChecks
{
    /// <summary>A solid this far from the art (CIEDE2000) is another colour to the client.</summary>
    private const double FarFromArt = 6;

    private const double LeastSoftMm2 = 4;

    /// <summary>Of a fade that ends early on less than this nobody speaks.</summary>
    private const double LeastWeakMm2 = 25;

    public static IEnumerable<Finding> Of(
        SizedArt art,
        ImmutableArray<PaletteColour> palette,
        BaseDecision decision,
        ImmutableArray<MadePlate> made,
        ImmutableArray<GroundPlan> plans,
        Appearance appearance,
        ImmutableArray<Ground> grounds,
        PrintMethod method,
        SpotSettings settings
    ) =>
        [
            .. Settings(method, settings),
            .. Size(art, settings),
            .. Colours(palette, settings),
            .. made.Length == 0 ? [NoPlate(palette, grounds)] : Enumerable.Empty<Finding>(),
            .. decision.Inks.SelectMany(ink => Ink(ink, palette, grounds, method, settings)),
            .. White(decision, appearance, grounds, method, settings),
            .. made.SelectMany(m => Plate(m, art, settings)),
        ];

    /// <summary>The same about one colour, for the palette.</summary>
    public static string Note(PaletteColour colour, ArtInk ink, ImmutableArray<Ground> grounds)
    {
        var shows = Names(grounds, g => !ink.Prints[g]);
        if (!ink.Prints.Contains(true))
            return $"the cloth shows ({ChangeOver.Shade(ink)} on {shows})";
        var worst = Enumerable.Range(0, grounds.Length).Where(g => ink.Prints[g]).MaxBy(g => Off(ink, g));
        var printed = ink.IsWhite
            ? Text(
                $"{colour.Hex} as {ink.Name}, L* {ink.Printed[worst].L:0} on {grounds[worst].Colour.Name.ToLowerInvariant()}"
            )
            : Text(
                $"{colour.Hex} as {ink.Name}, {Off(ink, worst):0.0} dE00 from the art on {grounds[worst].Colour.Name.ToLowerInvariant()}"
            );
        return shows.Length == 0 ? printed : $"{printed}; the cloth shows on {shows}";
    }

    /// <summary>Soft fades and tints in art for a method that has solids only; a few stray pixels are no fade.</summary>
    public static ImmutableArray<Finding> NoTones(PrintMethod method, ArtShares shares, double pixelsPerMm)
    {
        var soft = shares.Fade.Pixels.Count(p => p != 0) / (pixelsPerMm * pixelsPerMm);
        return soft < LeastSoftMm2
            ? []
            :
            [
                new(
                    "no-tones",
                    FindingWeight.Warning,
                    Text(
                        $"{soft / 100:0.00} cm2 of the art is a fade or a tint, {method.Id} has solids only: it is cut at one half"
                    ),
                    "redraw it in solid colours, or print it with a method that has halftones",
                    Math.Round(soft / 100, 2),
                    0,
                    "cm2"
                )
                {
                    Spot = Fades(shares.Fade, pixelsPerMm),
                },
            ];
    }

    private static FindingSpot? Fades(BytePlane fade, double pixelsPerMm)
    {
        var where = new SpotGrid(fade.Width, fade.Height, pixelsPerMm);
        for (var y = 0; y < fade.Height; y++)
        for (var x = 0; x < fade.Width; x++)
            if (fade[x, y] != 0)
                where.Add(x, y);
        return where.Densest();
    }

    private static IEnumerable<Finding> Settings(PrintMethod method, SpotSettings settings)
    {
        if (settings.Base == BaseChoice.Discharge && method.Rules.DischargeBase is null)
            yield return new(
                "base-not-of-this-method",
                FindingWeight.Refusal,
                $"a discharge base is not part of {method.Id}: discharge takes the cloth's own dye out and is a method of its own",
                "choose base white, auto or none, or print with the method discharge or plastisol"
            );
        foreach (var foreign in ForeignInks(method, settings))
            yield return foreign;
        foreach (var hex in settings.Inks.ExactColours)
            if (ClothShows.Hex(hex) is null)
                yield return new(
                    "colour-not-understood",
                    FindingWeight.Refusal,
                    $"the exact colour \"{hex}\" is not a colour",
                    "write it as six hexadecimal digits, for instance #c8102e"
                );
    }

    /// <summary>Listed inks that are not of this method.</summary>
    public static IEnumerable<Finding> ForeignInks(PrintMethod method, SpotSettings settings) =>
        settings
            .Inks.Inks.Where(ink => ink.Kind != method.ColourInk && ink.Kind != method.BaseInk)
            .Select(ink => new Finding(
                "ink-of-another-method",
                FindingWeight.Refusal,
                $"{ink.Name} ({ink.Id}) is not an ink of {method.Id}",
                "choose from: " + string.Join(", ", InkLibrary.OfKind(method.ColourInk).Select(i => i.Id))
            ));

    private static IEnumerable<Finding> Size(SizedArt art, SpotSettings settings)
    {
        if (art.WidthMm > settings.LargestWidthMm)
            yield return new(
                "larger-than-print-area",
                FindingWeight.Warning,
                Text($"the print is {art.WidthMm:0.#} mm wide, the press prints {settings.LargestWidthMm:0.#}"),
                Text($"place it {settings.LargestWidthMm:0.#} mm wide or less"),
                art.WidthMm,
                settings.LargestWidthMm,
                "mm"
            )
            {
                // Centred on the pallet it reaches over on both sides; one of them is marked.
                Spot = new(
                    (art.WidthMm + settings.LargestWidthMm) / 2,
                    0,
                    (art.WidthMm - settings.LargestWidthMm) / 2,
                    Math.Round(art.HeightMm, 2)
                ),
            };
        if (art.HeightMm > settings.LargestHeightMm)
            yield return new(
                "larger-than-print-area",
                FindingWeight.Warning,
                Text($"the print is {art.HeightMm:0.#} mm high, the press prints {settings.LargestHeightMm:0.#}"),
                Text($"place it {Math.Floor(art.WidthMm * settings.LargestHeightMm / art.HeightMm):0} mm wide or less"),
                Math.Round(art.HeightMm, 1),
                settings.LargestHeightMm,
                "mm"
            )
            {
                Spot = new(
                    0,
                    settings.LargestHeightMm,
                    art.WidthMm,
                    Math.Round(art.HeightMm - settings.LargestHeightMm, 2)
                ),
            };
    }

    private static IEnumerable<Finding> Colours(ImmutableArray<PaletteColour> palette, SpotSettings settings)
    {
        if (settings.Inks.Count is { } wanted && wanted > palette.Length && palette.Length > 0)
            yield return new(
                "fewer-colours",
                FindingWeight.Note,
                $"the art has {palette.Length} colours that can be told apart, {wanted} were asked for",
                "nothing, or list the inks by name",
                palette.Length,
                wanted,
                "inks"
            );
    }

    private static Finding NoPlate(ImmutableArray<PaletteColour> palette, ImmutableArray<Ground> grounds) =>
        new(
            "no-plate",
            FindingWeight.Warning,
            palette.Length == 0
                ? "no plate is made: the art has no printable colour"
                : $"no plate is made: every colour of the art is left to the cloth on {Names(grounds, _ => true)}",
            palette.Length == 0
                ? "supply art with something on it"
                : "print the colour although the cloth has it, or choose another garment colour",
            0,
            1,
            "plates"
        );

    private static IEnumerable<Finding> Ink(
        ArtInk ink,
        ImmutableArray<PaletteColour> palette,
        ImmutableArray<Ground> grounds,
        PrintMethod method,
        SpotSettings settings
    )
    {
        var hex = palette[ink.Colours[0]].Hex;
        var shows = Names(grounds, g => !ink.Prints[g]);
        if (shows.Length > 0)
            yield return new(
                "cloth-shows",
                FindingWeight.Note,
                $"{ChangeOver.Shade(ink)} ({hex}) is not printed on {shows}: the cloth shows",
                "nothing, or ask for it to be printed there as well"
            );
        var prints = Enumerable.Range(0, grounds.Length).Where(g => ink.Prints[g]).ToArray();
        if (prints.Length == 0)
            yield break;
        if (ink.Ink.Id.StartsWith(AssumedInk.Prefix, StringComparison.Ordinal))
            yield return new(
                "mix-to-match",
                FindingWeight.Note,
                $"{ink.Name} is mixed to match {hex}: its spectrum is assumed from the art's colour",
                "ask the ink's supplier for the formula and print a sample on this cloth"
            );
        if (!IsFarFromArt(ink))
            yield break;
        var worst = prints.MaxBy(g => Off(ink, g));
        yield return new(
            "far-from-art",
            FindingWeight.Warning,
            Text(
                $"{ink.Name} prints {Off(ink, worst):0.0} dE00 from the art's {hex} on {grounds[worst].Colour.Name.ToLowerInvariant()}, {FarFromArt:0} is a visibly different colour"
            ),
            !method.Rules.HasBase ? "choose a nearer ink, or show the client the proof and say so"
                : settings.Base == BaseChoice.None
                    ? "print a white base under it, or show the client the proof and say so"
                : "choose a nearer ink, print the base twice, or show the client the proof and say so",
            Math.Round(Off(ink, worst), 1),
            FarFromArt,
            "dE00"
        );
    }

    /// <summary>Whether far-from-art is said of this ink, on whichever cloth it is worst.</summary>
    public static bool IsFarFromArt(ArtInk ink) =>
        !ink.IsWhite
        && !ClothShows.IsNearBlack(ink.Wanted)
        && Enumerable.Range(0, ink.Prints.Length).Any(g => ink.Prints[g] && Off(ink, g) > FarFromArt);

    private static IEnumerable<Finding> White(
        BaseDecision decision,
        Appearance appearance,
        ImmutableArray<Ground> grounds,
        PrintMethod method,
        SpotSettings settings
    )
    {
        var white = decision.Inks.FirstOrDefault(i => i.IsWhite);
        if (white is null || settings.PrintFlashPrint || !method.Rules.HasBase || !appearance.BaseIsWhite)
            yield break;
        var dark = Enumerable.Range(0, grounds.Length).Where(g => white.Prints[g] && white.Printed[g].L < 88).ToArray();
        if (dark.Length == 0)
            yield break;
        var worst = dark.MinBy(g => white.Printed[g].L);
        var twice = new Appearance(method.Press, settings.Press, appearance.BaseWhite, true).White(grounds[worst]);
        yield return new(
            "white-is-grey",
            FindingWeight.Note,
            Text(
                $"white prints at L* {white.Printed[worst].L:0} on {grounds[worst].Colour.Name.ToLowerInvariant()} in one pass"
            ),
            Text($"print-flash-print reaches L* {twice.L:0}"),
            Math.Round(white.Printed[worst].L),
            88,
            "L*"
        );
    }

    private static IEnumerable<Finding> Plate(MadePlate made, SizedArt art, SpotSettings settings)
    {
        if (made.Thin?.On($"\"{made.Plate.Name}\"", made.Plate.Mesh, art, settings.LargestWidthMm) is { } thin)
            yield return thin;
        if (
            made.Drawn is { } drawn
            && made.Plate.Purpose != PlatePurpose.HighlightWhite
            && SmallType.Of(drawn, art.PixelsPerMm, $"\"{made.Plate.Name}\"") is { } small
        )
            yield return small;
        if (made.WeakMm2 >= LeastWeakMm2)
            yield return WeakTonesOf(made.Plate, made.WeakMm2, made.HeldTone);
    }

    public static Finding WeakTonesOf(Plate plate, double weakMm2, double heldTone) =>
        new(
            "weak-tones",
            FindingWeight.Note,
            Text(
                $"dots under {100 * heldTone:0.0} % do not hold on the {plate.Mesh.Label} mesh at {plate.Screen.LinesPerInch:0} lpi: {weakMm2 / 100:0.00} cm2 of \"{plate.Name}\" are lighter"
            ),
            "let the fade end there, hold the smallest dot, or use a finer mesh or a coarser ruling",
            Math.Round(weakMm2 / 100, 2),
            0,
            "cm2"
        );

    private static double Off(ArtInk ink, int ground) => Ciede2000.Difference(ink.Printed[ground], ink.Wanted);

    private static string Names(ImmutableArray<Ground> grounds, Func<int, bool> which) =>
        string.Join(
            ", ",
            Enumerable.Range(0, grounds.Length).Where(which).Select(g => grounds[g].Colour.Name.ToLowerInvariant())
        );
}
