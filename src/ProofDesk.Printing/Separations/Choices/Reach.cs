using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>
/// Where the print cannot follow the art on one ground: how far the gamut map that the plates were solved with moved each colour.
/// </summary>
/// <param name="Moved">Fifths of a CIEDE2000, 255 = 51 and more, 0 where the art is empty.</param>
/// <param name="Grey">Lightness of the art, sRGB codes; paper where it is empty.</param>
/// <param name="OutOfReachShare">Share of the art that was moved by more than <see cref="TonalFit.Moved"/>, 0..1.</param>
/// <param name="MeanMove">How far that share was moved, CIEDE2000.</param>
/// <param name="MostMove">The farthest.</param>
public sealed record Reach(
    Ground Ground,
    BytePlane Moved,
    BytePlane Grey,
    double PixelsPerMm,
    double OutOfReachShare,
    double MeanMove,
    double MostMove
)
{
    /// <summary>Codes of <see cref="Moved"/> for one CIEDE2000.</summary>
    public const int Fifths = 5;

    /// <summary>What an empty place of the art is shown as.</summary>
    public const byte Paper = 246;

    /// <summary>Longest side, px: a picture to look at, no plate.</summary>
    private const int LongestSide = 1200;

    private const ushort Faint = 6554;

    internal static Reach Of(TonalGround ground, RgbaRaster art, double artPixelsPerMm, TonalFit fit)
    {
        var step = Math.Max(1, Math.Max(art.Width, art.Height) / (double)LongestSide);
        var (width, height) = ((int)Math.Round(art.Width / step), (int)Math.Round(art.Height / step));
        var (moved, grey) = (new BytePlane(width, height), new BytePlane(width, height));
        var positions = new TablePositions();
        var looked = new RgbaRaster(width, height);
        RowLoop.Run(height, 4 * width, y => Look(art, step, y, looked.Row(y)));
        var cells = TableCells.Of(
            width,
            height,
            (y, row) =>
            {
                positions.Row(looked.Row(y), row);
                return true;
            }
        );
        var table = Table(ground.Gamut, cells);
        var codes = new SrgbCodes();
        RowLoop.RunBands(
            height,
            16,
            (top, count) =>
            {
                var places = new ushort[3 * width];
                var outputs = new byte[TetrahedralTable.Lanes * width];
                for (var y = top; y < top + count; y++)
                {
                    positions.Row(looked.Row(y), places);
                    table.Row(places, outputs);
                    Row(looked.Row(y), outputs, codes, moved.Row(y), grey.Row(y));
                }
            }
        );
        return new(ground.Ground, moved, grey, artPixelsPerMm / step, fit.OutOfGamut, fit.MeanMove, fit.MostMove);
    }

    private static void Look(RgbaRaster art, double step, int y, Span<ushort> looked)
    {
        var from = art.Row(Math.Min(art.Height - 1, (int)((y + 0.5) * step)));
        for (var x = 0; x < looked.Length / 4; x++)
            from.Slice(4 * Math.Min(art.Width - 1, (int)((x + 0.5) * step)), 4).CopyTo(looked[(4 * x)..]);
    }

    private static void Row(
        ReadOnlySpan<ushort> looked,
        ReadOnlySpan<byte> outputs,
        SrgbCodes codes,
        Span<byte> moved,
        Span<byte> grey
    )
    {
        for (var x = 0; x < moved.Length; x++)
        {
            var pixel = looked.Slice(4 * x, 4);
            var inked = pixel[3] >= Faint;
            var light = 0.2126 * pixel[0] + 0.7152 * pixel[1] + 0.0722 * pixel[2];
            moved[x] = inked ? outputs[TetrahedralTable.Lanes * x] : (byte)0;
            grey[x] = inked ? codes[(ushort)Math.Round(light)] : Paper;
        }
    }

    private static TetrahedralTable Table(PrintGamut gamut, TableCells cells)
    {
        const int Size = SeparationTable.Size;
        var values = new float[Size * Size * Size];
        var read = cells.Nodes(1, beside: false);
        Parallel.For(
            0,
            Size,
            r =>
            {
                for (var g = 0; g < Size; g++)
                for (var b = 0; b < Size; b++)
                {
                    if (!read[(r * Size + g) * Size + b])
                        continue;
                    var art = Srgb.Decode(r / (Size - 1.0), g / (Size - 1.0), b / (Size - 1.0));
                    values[(r * Size + g) * Size + b] = (float)(Fifths * TonalFit.Wanted(gamut, art).Moved / 255);
                }
            }
        );
        return new(Size, 1, values);
    }
}
