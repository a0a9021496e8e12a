using System.Globalization;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>
/// The picture of plates over each other, for sizing and for looking at: transparent where no plate prints. Paper is not
/// part of it, so half a tint is half opaque and not a paler colour. Colours multiply in linear light, as inks that
/// overprint do.
/// </summary>
internal static class SpotComposite
{
    /// <param name="colours">Linear R, G, B of each plane at full strength.</param>
    public static RgbaRaster Of(IReadOnlyList<BytePlane> planes, IReadOnlyList<LinearRgb> colours)
    {
        var (width, height) = (planes[0].Width, planes[0].Height);
        var raster = new RgbaRaster(width, height);
        Parallel.For(
            0,
            height,
            y =>
            {
                var to = raster.Row(y);
                for (var x = 0; x < width; x++)
                {
                    var ink = 0;
                    var (r, g, b) = (1.0, 1.0, 1.0);
                    for (var i = 0; i < planes.Count; i++)
                    {
                        var value = planes[i].Pixels[y * width + x];
                        if (value == 0)
                            continue;
                        ink += value;
                        var share = value / 255.0;
                        r *= 1 - share * (1 - colours[i].R);
                        g *= 1 - share * (1 - colours[i].G);
                        b *= 1 - share * (1 - colours[i].B);
                    }
                    if (ink == 0)
                        continue;
                    // Where plates meet edge to edge their shares add up to one, so they are added and not multiplied.
                    var alpha = Math.Min(255, ink) / 255.0;
                    to[4 * x] = Straight(r, alpha);
                    to[4 * x + 1] = Straight(g, alpha);
                    to[4 * x + 2] = Straight(b, alpha);
                    to[4 * x + 3] = (ushort)Math.Round(65535 * alpha);
                }
            }
        );
        return raster;
    }

    /// <summary>Light of the ink alone, from the light of ink on white.</summary>
    private static ushort Straight(double onWhite, double alpha) =>
        (ushort)Math.Round(65535 * Math.Clamp((onWhite - (1 - alpha)) / alpha, 0, 1));

    /// <summary>"#rrggbb" in linear light; black when nothing is known, as a film is.</summary>
    public static LinearRgb Light(string? colour) =>
        colour is null ? new(0, 0, 0) : new(Part(colour, 1), Part(colour, 3), Part(colour, 5));

    private static double Part(string colour, int at) =>
        Srgb.Decode(
            int.Parse(colour.AsSpan(at, 2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture) / 255.0
        );
}
