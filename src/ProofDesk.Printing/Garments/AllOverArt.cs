using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Garments;

/// <summary>
/// Art over a whole side of a garment, past its outline: once, when it is as wide as the garment, else repeated in
/// both directions from the middle of the side.
/// </summary>
public static class AllOverArt
{
    /// <summary>Resolution of the covered canvas: coarser than a placed print's, whose whole area would not fit in memory.</summary>
    public const double FinestDpi = 100;

    /// <param name="bleedMm">How far the print runs past the outline.</param>
    /// <param name="reason">Why the method needs so much, for the finding.</param>
    public static (SizedArt Art, Placement Placement) Cover(
        SizedArt art,
        Garment garment,
        string sizeName,
        Place place,
        double bleedMm,
        string reason
    )
    {
        if (garment.Shape is not { } shape || garment.Size(sizeName) is not { } size)
            return (art, new(place, 0, 0, art.WidthMm));
        var side = place.Side();
        var placement = shape.AllOver(size, side, bleedMm);
        var outline = shape.PanelOutline(size, side);
        var garmentWidth = 2 * outline.Max(p => Math.Abs(p.X));
        var garmentHeight = outline.Max(p => p.Y) - outline.Min(p => p.Y);
        var height = garmentHeight + 2 * bleedMm;

        // A whole number of pixels a repeat, so that repeats meet without a step.
        var perMm = Math.Max(1, Math.Round(Math.Min(art.PixelsPerMm, FinestDpi / 25.4) * art.WidthMm)) / art.WidthMm;
        var tile =
            (int)Math.Round(perMm * art.WidthMm) is var across && across < art.Pixels.Width
                ? AreaAverage.Shrink(art.Pixels, across)
                : art.Pixels;
        perMm = tile.Width / art.WidthMm;
        var canvas = new RgbaRaster(
            Math.Max(1, (int)Math.Ceiling(placement.WidthMm * perMm)),
            Math.Max(1, (int)Math.Ceiling(height * perMm))
        );
        // Outlines are met within a millimetre.
        var repeats = art.WidthMm < garmentWidth - 2;
        Fill(canvas, tile, repeats);
        var (widthMm, heightMm) = (canvas.Width / perMm, canvas.Height / perMm);
        var what = Text(
            $"the {side.ToString().ToLowerInvariant()} of {garment.Name} in {sizeName}, {garmentWidth:0} x {garmentHeight:0} mm"
        );
        var finding = repeats
            ? Repeats(art, what, bleedMm, widthMm, heightMm)
            : Bleed(art, what, bleedMm, reason, garmentWidth, garmentHeight);
        return (
            new(
                canvas,
                widthMm,
                heightMm,
                art.Artwork,
                art.CropLeft,
                art.CropTop,
                finding is null ? art.Findings : art.Findings.Add(finding)
            ),
            placement with
            {
                FromSeamMm = placement.FromSeamMm - (heightMm - height) / 2,
                WidthMm = widthMm,
            }
        );
    }

    private static void Fill(RgbaRaster canvas, RgbaRaster tile, bool repeats)
    {
        var (left, top) = ((canvas.Width - tile.Width) / 2, (canvas.Height - tile.Height) / 2);
        RowLoop.Run(
            canvas.Height,
            canvas.Width,
            y =>
            {
                var from = y - top;
                if (repeats)
                    from = ((from % tile.Height) + tile.Height) % tile.Height;
                if (from < 0 || from >= tile.Height)
                    return;
                var source = tile.Row(from);
                var target = canvas.Row(y);
                for (var x = 0; x < canvas.Width; )
                {
                    var at = x - left;
                    if (repeats)
                        at = ((at % tile.Width) + tile.Width) % tile.Width;
                    var (skip, start) = at < 0 ? (-at, 0) : (0, at);
                    var run = Math.Min(tile.Width - start, canvas.Width - x - skip);
                    if (run <= 0)
                        break;
                    source.Slice(4 * start, 4 * run).CopyTo(target[(4 * (x + skip))..]);
                    x += skip + run;
                }
            }
        );
    }

    private static Finding Repeats(SizedArt art, string what, double bleedMm, double widthMm, double heightMm) =>
        new(
            "art-repeats",
            FindingWeight.Note,
            Text(
                $"the art is {art.WidthMm:0.#} mm wide and repeats {widthMm / art.WidthMm:0.0} x {heightMm / art.HeightMm:0.0} times to cover {what}, with {bleedMm:0} mm of bleed"
            ),
            "nothing, or give it the width of the whole garment to have it once"
        );

    private static Finding? Bleed(
        SizedArt art,
        string what,
        double bleedMm,
        string reason,
        double garmentWidth,
        double garmentHeight
    )
    {
        var past = Math.Min(art.WidthMm - garmentWidth, art.HeightMm - garmentHeight) / 2;
        return past >= bleedMm - 0.5
            ? null
            : new(
                "too-little-bleed",
                FindingWeight.Warning,
                past < -0.5
                    ? Text(
                        $"the art ends {-past:0} mm inside {what}; {bleedMm:0} mm past the outline are needed: {reason}"
                    )
                    : Text(
                        $"the art runs {Math.Max(0, past):0} mm past the outline of {what}; {bleedMm:0} mm are needed: {reason}"
                    ),
                Text(
                    $"make the art {Math.Max(garmentWidth + 2 * bleedMm, (garmentHeight + 2 * bleedMm) * art.WidthMm / art.HeightMm):0} mm wide, with its background running on to all sides, or supply a pattern that repeats"
                ),
                Math.Round(past),
                bleedMm,
                "mm"
            );
    }
}
