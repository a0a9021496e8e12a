using System.Collections.Immutable;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// From mesh to film: the weaver's theoretical ink volume times the share that leaves the mesh times the solids. Trade
/// texts that state wet deposits agree with a share of 0.7 to 0.8 ([PHYSICS] 1.5).
/// </summary>
public static class DepositModel
{
    /// <summary>
    /// A second stroke on the same wet screen adds about a third of a pass: the mesh is already emptied into a wet film
    /// (common practice). It is neither a second screen nor print-flash-print, which add SecondPassTransfer each.
    /// </summary>
    public const double ExtraStroke = 0.35;

    /// <summary>
    /// Least share of a pass that a fibre standing through the film carries: the squeegee wets it, so a solid on pale cloth shows
    /// stained fibres and not white ones (judged by eye; the white's lightness on black hardly moves).
    /// </summary>
    public const double FibreStain = 0.4;

    /// <summary>Thin and thick ends of the plausible range: squeegee, tension and mesh tolerance (common practice, +-20 %).</summary>
    public static double Factor(Deposit deposit) =>
        deposit switch
        {
            Deposit.Light => 0.8,
            Deposit.Expected => 1,
            Deposit.Heavy => 1.2,
            _ => throw new ArgumentOutOfRangeException(nameof(deposit), deposit, "unknown deposit"),
        };

    /// <summary>Mean dry film of one screen, um.</summary>
    public static double FilmUm(
        Mesh mesh,
        Ink ink,
        PressSettings press,
        int strokes,
        bool onFlashedBase,
        Deposit deposit
    )
    {
        if (strokes < 1)
            throw new ArgumentOutOfRangeException(
                nameof(strokes),
                strokes,
                $"a screen is printed with {strokes} strokes, at least 1 is needed"
            );
        var pass = mesh.TheoreticalInkVolume * press.Transfer * ink.VolumeSolids;
        var onGelledFilm = onFlashedBase ? press.SecondPassTransfer : 1;
        return pass * (1 + ExtraStroke * (strokes - 1)) * onGelledFilm * Factor(deposit);
    }

    /// <summary>
    /// The layers, bottom up, where the screens named by <paramref name="code"/> printed: bit i is run i in print order.
    /// On bare cloth the first film partly sinks in; on a flashed film a pass transfers less but lies flatter; on wet
    /// ink it is trapped only in part. The same plate run twice with a flash between (print-flash-print) is two runs.
    /// </summary>
    public static ImmutableArray<PrintedLayer> Layers(
        IReadOnlyList<InkPass> runs,
        ulong code,
        PressSettings press,
        Deposit deposit
    )
    {
        var onCloth = ThicknessSpread.Gamma(press.ThicknessCvFirstPass);
        var onBase = ThicknessSpread.Gamma(press.ThicknessCvOnBase);
        return Layers(runs, code, press, deposit, onCloth, onBase);
    }

    internal static ImmutableArray<PrintedLayer> Layers(
        IReadOnlyList<InkPass> runs,
        ulong code,
        PressSettings press,
        Deposit deposit,
        ThicknessSpread onCloth,
        ThicknessSpread onBase
    )
    {
        var layers = ImmutableArray.CreateBuilder<PrintedLayer>();
        var (inked, flashed, sealedByBase) = (false, false, false);
        for (var i = 0; i < runs.Count; i++)
        {
            var run = runs[i];
            if ((code >> i & 1) != 0)
            {
                var um = FilmUm(run.Mesh, run.Ink, press, run.Strokes, inked && flashed, deposit);
                if (inked && !flashed)
                    um *= press.WetTrap;
                var share = InClothShare(run.Ink, inked, sealedByBase, press);
                layers.Add(
                    new(InShop(run.Ink, press), um, inked ? onBase : onCloth, share)
                    {
                        StainShare = Math.Max(
                            FibreStain,
                            InClothShare(run.Ink, inked: false, sealedByBase: false, press)
                        ),
                    }
                );
                // A second pass of white fills the valleys of the first: together they vary like a print on a base.
                if (inked && flashed && run.Ink.Role == InkRole.White && layers[0].Ink.Role == InkRole.White)
                    layers[0] = layers[0] with { Spread = onBase };
                // A discharge base leaves nothing on the cloth: what follows meets the cloth.
                inked |= run.Ink.VolumeSolids > 0;
                flashed = false;
                sealedByBase |= run.Ink.Kind is InkKind.Plastisol or InkKind.HighSolidsWaterBased or InkKind.Metallic;
            }
            flashed |= run.FlashAfter;
        }
        return layers.ToImmutable();
    }

    /// <summary>The ink as this shop's test form showed it: a white that scatters more or less than the library's.</summary>
    private static Ink InShop(Ink ink, PressSettings press) =>
        press.WhiteOpacityScale == 1 || ink.Role != InkRole.White
            ? ink
            : ink with
            {
                ScatteringPerUm = ink.ScatteringPerUm.Map(s => s * press.WhiteOpacityScale),
            };

    /// <summary>
    /// Share of the area where fibres stand through: the first pass of a film misses some, a second one covers most of
    /// them. Ink that soaks in colours the fibres themselves, so only its surface share can miss.
    /// </summary>
    public static double BareFibreShare(IReadOnlyList<PrintedLayer> layers, PressSettings press) =>
        layers.Count(layer => layer.Ink.VolumeSolids > 0) switch
        {
            0 => layers.Count == 0 ? 1 : 0,
            1 => press.BareFibreFirstPass * layers.First(layer => layer.Ink.VolumeSolids > 0).Ink.SurfaceShare,
            _ => press.BareFibreOnBase,
        };

    private static double InClothShare(Ink ink, bool inked, bool sealedByBase, PressSettings press) =>
        ink.Kind switch
        {
            InkKind.Plastisol => inked ? 0 : press.WickedShare,
            InkKind.Metallic => inked ? 0 : press.WickedShare,
            InkKind.WaterBased or InkKind.HighSolidsWaterBased or InkKind.Discharge or InkKind.Jet => sealedByBase
                ? 0
                : 1 - ink.SurfaceShare,
            InkKind.Foil or InkKind.Sheet or InkKind.Dye => 0,
            _ => throw new ArgumentOutOfRangeException(nameof(ink), ink.Kind, "unknown kind of ink"),
        };
}
