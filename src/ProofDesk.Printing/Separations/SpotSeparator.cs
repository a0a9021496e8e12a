using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Printing.Separations.Difficult;
using ProofDesk.Printing.Separations.Layers;

namespace ProofDesk.Printing.Separations;

/// <summary>Spot art becomes plates: one set for a set of grounds.</summary>
public static class SpotSeparator
{
    /// <summary>
    /// Separates <paramref name="art"/> for <paramref name="method"/> on all <paramref name="grounds"/> with one set of plates.
    /// Art that needs no plate, or settings that cannot be met, come back as findings; a finding of weight
    /// <see cref="FindingWeight.Refusal"/> means the job cannot go on as set.
    /// </summary>
    /// <exception cref="ArgumentException">No ground was given.</exception>
    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        if (grounds.IsDefaultOrEmpty)
            throw new ArgumentException("a separation needs at least one ground, none given");
        Finding[] unmet = [.. InkRuleChecks.Of(method, settings)];
        if (unmet.Length > 0)
            return Inverse.TonalJobs.Refused(art, grounds, unmet);
        if (art.Layers.Length > 0 && settings.Layers == LayerChoice.Keep)
            return LayeredSeparation.Separate(art, method, grounds, settings);
        var codes = new SrgbCodes();
        var bins = ColourHistogram.Of(art.Pixels, codes);
        var palette = Palette.Find(bins, settings.Inks.Count);
        var rules = method.Rules;
        if (!rules.HasBase)
            settings = settings with { Base = BaseChoice.None };
        var dischargeBase = settings.Base == BaseChoice.Discharge ? rules.DischargeBase : null;
        if (dischargeBase is not null)
            settings = settings with
            {
                BaseMesh = settings.BaseMesh ?? Meshes.Discharge,
                PrintFlashPrint = false,
                HighlightWhite = false,
            };
        var shares = EdgeUnmixing.Share(art.Pixels, codes, palette, art.PixelsPerMm);
        var fades = shares.HasFades && rules.HasTones;
        ImmutableArray<Finding> noTones =
            shares.HasFades && !rules.HasTones ? SeparationChecks.NoTones(method, shares, art.PixelsPerMm) : [];
        if (!fades)
            shares = shares with { HasFades = false };
        settings = settings with
        {
            BaseMesh =
                settings.BaseMesh ?? (fades ? Meshes.HalftoneBase : rules.BaseMesh ?? Meshes.SolidBase(method.BaseInk)),
            ColourMesh = settings.ColourMesh ?? (fades ? null : rules.ColourMesh),
        };
        var mesh = settings.ColourMesh ?? (fades ? Meshes.HalftoneColour : Meshes.Spot(method.ColourInk));
        var baseInk = dischargeBase ?? rules.BaseInk ?? InkLibrary.BaseWhite(method.ColourInk);
        var white = new InkPass(baseInk, settings.BaseMesh, settings.BaseStrokes, true);
        var appearance = new Appearance(method.Press, settings.Press, white, settings.PrintFlashPrint);
        BaseDecision Decide(ImmutableArray<Ground> some) =>
            BaseDecision.Make(
                new InkAssignment(method, some, settings, appearance, mesh).Assign(palette),
                some,
                settings,
                appearance,
                mesh
            );
        var decision = Decide(grounds);
        var second =
            method.InkFreedom == InkFreedom.Chosen && !settings.IsAlikeOnAllGrounds
                ? SpotSets.Of(palette, grounds, decision, Decide, appearance.Cloth, settings)
                : null;
        var order = PrintOrder(decision, settings);
        var made = Plates(art, method, settings, decision, order, shares, white.Ink);
        var plans = ChangeOver.Plans(made, decision, grounds, settings);
        return new(
            [.. made.Select(m => m.Plate)],
            plans,
            Entries(palette, decision, made, shares, grounds, art.PixelsPerMm),
            art.WidthMm,
            art.HeightMm,
            art.PixelsPerMm,
            [
                .. art.Findings,
                .. noTones,
                .. InkRuleChecks.Unused(settings, decision.Inks.Where(i => i.Prints.Contains(true)).Select(i => i.Ink)),
                .. ArtNature.Of(bins, palette).Findings(art, method, settings),
                .. SeparationChecks.Of(art, palette, decision, made, plans, appearance, grounds, method, settings),
                .. dischargeBase is null
                    ? []
                    : DischargeChecks.UnderColours(plans, appearance.BaseWhite, mesh, decision, settings.Press),
                .. second is null ? [] : (Finding[])[second.Finding(ScreenRates.CommonPractice(settings.PressClass))],
            ]
        )
        {
            SecondSet = second,
        };
    }

    /// <summary>
    /// Inks with a screen of their own: light to dark, of equal lightness small to large, dark keys last; then as the shop orders
    /// them.
    /// </summary>
    private static ImmutableArray<ArtInk> PrintOrder(BaseDecision decision, SpotSettings settings)
    {
        ImmutableArray<ArtInk> usual =
        [
            .. decision
                .Inks.Where(ink => ink.Prints.Contains(true) && !(ink.IsWhite && decision.CarriesWhite))
                .OrderBy(ink => ink.IsKey && ClothShows.IsNearBlack(ink.Wanted))
                .ThenByDescending(ink => Math.Round(ink.Wanted.L / 8))
                .ThenBy(ink => ink.Weight)
                .ThenByDescending(ink => ink.Wanted.L),
        ];
        return settings.Inks.Rules is { } rules ? rules.InOrder(usual, ink => ink.Ink.Id) : usual;
    }

    private static ImmutableArray<MadePlate> Plates(
        SizedArt art,
        PrintMethod method,
        SpotSettings settings,
        BaseDecision decision,
        ImmutableArray<ArtInk> order,
        ArtShares shares,
        Ink white
    )
    {
        var (width, height) = (art.Pixels.Width, art.Pixels.Height);
        BytePlane Of(IEnumerable<ArtInk> inks) =>
            PlateDrawing.Sum([.. inks.SelectMany(i => i.Colours).Select(c => shares.Shares[c])], width, height);
        var maker = new PlateMaker(method, settings, art.PixelsPerMm);
        var artWhite = decision.Inks.FirstOrDefault(i => i.IsWhite);
        var everywhere = order.Where(i => PrintsWhereverTheBaseRuns(i, decision)).ToArray();
        var underbase = !decision.Exists
            ? null
            : BaseSolver.Draw(
                Of(order.Where(i => i.OnBase)),
                decision.CarriesWhite ? Of([artWhite!]) : null,
                Of(everywhere.Where(i => i.IsKey)),
                Of(everywhere),
                shares,
                settings,
                art.PixelsPerMm
            );
        if (settings.BlockingBase && order.Select(i => i.Ink).Append(white).Any(Migration.TakesDye))
        {
            var under = underbase ?? PlateDrawing.From(Of(order), shares.Fade, shares.HasFades);
            var drawing = under with { Shape = Choke.Yielding(under.Shape, settings.ChokeMm, art.PixelsPerMm) };
            maker.Add(
                "Blocking base",
                PlatePurpose.BlockingBase,
                InkLibrary.BlockingBase,
                null,
                drawing,
                drawing.Shape,
                false
            );
        }
        if (underbase is { } drawn)
        {
            var (name, purpose) =
                white.Kind == InkKind.Discharge ? ("Discharge base", PlatePurpose.DischargeBase)
                : decision.CarriesWhite ? ("White base", PlatePurpose.BaseAndWhite)
                : ("Base", PlatePurpose.Base);
            maker.Add(
                name,
                purpose,
                white,
                decision.CarriesWhite ? artWhite : null,
                drawn,
                decision.CarriesWhite ? Of([artWhite!]) : drawn.Shape,
                false
            );
        }
        var names = new PlateNames("White base", "Base", "Blocking base", "Discharge base", "Highlight white");
        for (var i = 0; i < order.Length; i++)
        {
            var own = Fades.RunUnder(
                Of([order[i]]),
                Of(order.Skip(i + 1).Where(later => Fades.Deepens(later, order[i]))),
                shares
            );
            var covering = order.Skip(i + 1).Where(later => Covers(later, order[i])).ToArray();
            var drawing = PlateDrawing.From(own, shares.Fade, shares.HasFades);
            if (covering.Length > 0)
                drawing = drawing with
                {
                    Shape = Traps.SpreadUnder(drawing.Shape, Of(covering), settings.TrapMm, art.PixelsPerMm),
                };
            maker.Add(
                names.Take(order[i].Name),
                PlatePurpose.Spot,
                order[i].Ink,
                order[i],
                drawing,
                own,
                order[i].OnBase
            );
        }
        if (settings.HighlightWhite && decision.CarriesWhite)
        {
            var own = Of([artWhite!]);
            var drawing = PlateDrawing.From(own, shares.Fade, shares.HasFades);
            maker.Add("Highlight white", PlatePurpose.HighlightWhite, white, artWhite, drawing, own, true);
        }
        return maker.Make();
    }

    private static bool PrintsWhereverTheBaseRuns(ArtInk ink, BaseDecision decision) =>
        Enumerable.Range(0, ink.Prints.Length).All(g => ink.Prints[g] || !decision.Runs[g]);

    /// <summary>A later ink hides what runs under it only where it prints itself, on every ground.</summary>
    internal static bool Covers(ArtInk later, ArtInk ink) =>
        Enumerable.Range(0, ink.Prints.Length).All(g => later.Prints[g] || !ink.Prints[g]);

    private static ImmutableArray<PaletteEntry> Entries(
        ImmutableArray<PaletteColour> palette,
        BaseDecision decision,
        ImmutableArray<MadePlate> made,
        ArtShares shares,
        ImmutableArray<Ground> grounds,
        double pixelsPerMm
    ) =>
        [
            .. palette.Select(
                (colour, i) =>
                {
                    var ink = decision.Inks.First(k => k.Colours.Contains(i));
                    var plate = made.Select((m, p) => (m, p))
                        .Where(x => x.m.Ink == ink && x.m.Plate.Purpose != PlatePurpose.HighlightWhite)
                        .Select(x => (int?)x.p)
                        .FirstOrDefault();
                    var area = shares.Shares[i].Pixels.AsSpan();
                    return new PaletteEntry(
                        Srgb.ToLab(colour.Linear),
                        plate,
                        Sum(area) / 255.0 / (pixelsPerMm * pixelsPerMm),
                        SeparationChecks.Note(colour, ink, grounds)
                    );
                }
            ),
        ];

    private static long Sum(ReadOnlySpan<byte> values)
    {
        unchecked
        {
            var sum = 0L;
            foreach (var value in values)
                sum += value;
            return sum;
        }
    }
}
