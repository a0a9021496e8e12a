using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Ink of one pass at one place of the cloth.
/// </summary>
/// <param name="FilmUm">Mean dry film (water-based: pigment-equivalent film), um, before part of it sinks in.</param>
/// <param name="Spread">How the thickness varies about that mean.</param>
/// <param name="InClothShare">Share of it inside the top of the cloth, 0..1; the rest lies above as a film.</param>
public readonly record struct PrintedLayer(Ink Ink, double FilmUm, ThicknessSpread Spread, double InClothShare)
{
    /// <summary>Share of the pass that a fibre standing through the films takes up: what would sink into bare cloth.</summary>
    public double StainShare { get; init; } = InClothShare;

    /// <summary>An even film that stays on top.</summary>
    public static PrintedLayer Film(Ink ink, double filmUm) => new(ink, filmUm, ThicknessSpread.Even, 0);
}

/// <summary>
/// Where on the knit a micro-dot lies.
/// </summary>
/// <param name="ThicknessClass">0 (thinnest) to 7 (thickest), see <see cref="ThicknessSpread"/>; one class holds for all layers.</param>
/// <param name="BareFibre">A fibre stands through the films here: the cloth shows, stained by each pass.</param>
public readonly record struct ClothPoint(int ThicknessClass, bool BareFibre);

/// <summary>
/// One screen as it runs on a ground, in print order. Print-flash-print is two passes of one screen, the first flashed.
/// </summary>
/// <param name="Strokes">Strokes of the squeegee on the wet screen.</param>
/// <param name="FlashAfter">A flash before the next pass.</param>
public sealed record InkPass(Ink Ink, Mesh Mesh, int Strokes, bool FlashAfter);
