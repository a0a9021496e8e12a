using NetVips;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace Benchmarks;

/// <summary>Opaque painted art of 12 x 16 inch at 300 px per inch: a photograph of somebody's, read when it is wanted, or soft shapes drawn here.</summary>
internal static class PaintedArt
{
    private const int Width = 12 * 300;
    private const int Height = 16 * 300;

    internal static SizedArt Make(string? photograph) => photograph is null ? Painting() : Photograph(photograph);

    /// <summary>Fills the size, cut at the sides or above and below.</summary>
    private static SizedArt Photograph(string file)
    {
        using var picture = Image.NewFromFile(file);
        using var upright = picture.Width > picture.Height ? picture.Rot90() : picture.Copy();
        var scale = Math.Max(Width / (double)upright.Width, Height / (double)upright.Height);
        using var large = upright.Resize(scale, kernel: Enums.Kernel.Lanczos3);
        using var cut = large.Crop((large.Width - Width) / 2, (large.Height - Height) / 2, Width, Height);
        using var rgb = cut.Colourspace(Enums.Interpretation.Srgb);
        var codes = rgb.Cast(Enums.BandFormat.Uchar).WriteToMemory<byte>();
        var bands = rgb.Bands;
        return Art((x, y, c) => codes[(y * Width + x) * bands + c]);
    }

    /// <summary>All hues with some grain, so that no two neighbours are alike.</summary>
    private static SizedArt Painting() =>
        Art(
            (x, y, c) =>
            {
                var (u, v) = (x / (double)Width, y / (double)Height);
                var tone = c switch
                {
                    0 => 0.5 + 0.45 * Math.Sin(5 * u + 3 * v),
                    1 => 0.5 + 0.4 * Math.Sin(9 * v - 2 * u),
                    _ => 0.5 + 0.4 * Math.Cos(7 * u * v + 4 * u),
                };
                var grain = SeededNoise.Uniform(5, x, y) - 0.5;
                return (int)(255 * Math.Clamp(tone + 0.04 * grain, 0, 1));
            }
        );

    private static SizedArt Art(Func<int, int, int, int> code)
    {
        var linear = new ushort[256];
        for (var i = 0; i < 256; i++)
            linear[i] = (ushort)Math.Round(65535 * Srgb.Decode(i / 255.0));
        var art = new RgbaRaster(Width, Height);
        RowLoop.Run(
            Height,
            Width,
            y =>
            {
                var row = art.Row(y);
                for (var x = 0; x < Width; x++)
                {
                    for (var c = 0; c < 3; c++)
                        row[4 * x + c] = linear[code(x, y, c)];
                    row[4 * x + 3] = 65535;
                }
            }
        );
        var source = new ArtSource("png", Width, Height, 8, "rgb", null, false, false);
        return new(art, 12 * 25.4, 16 * 25.4, new(art, source, new string('0', 64), []), 0, 0, []);
    }
}
