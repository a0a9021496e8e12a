using System.Text;
using ProofDesk.Judges;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Tests.Separations.Inverse;

/// <summary>
/// Photographs of the Debian package kphotoalbum (its demonstration album), which tests/run unpacks beside the tests and which
/// are not part of the project. Where they are missing, tests of them are skipped.
/// </summary>
internal static class Photographs
{
    public static readonly bool Long = Environment.GetEnvironmentVariable("PROOFDESK_LONG") == "1";

    /// <summary>A part of a photograph, scaled to so many pixels across, to be printed at 10 pixels a mm.</summary>
    public static SizedArt Crop(string name, int left, int top, int width, int height, int across)
    {
        var folder = Environment.GetEnvironmentVariable("PROOFDESK_PHOTOGRAPHS") ?? "/var/tmp/proofdesk-photographs";
        var file = Path.Combine(folder, name);
        Skip.IfNot(File.Exists(file), $"{name} is not there: bash tests/run fetches it");
        var made = Directory.CreateTempSubdirectory("photograph-").FullName;
        try
        {
            var crop = Path.Combine(made, "crop.v");
            Programs.Run("vips", "crop", file, crop, $"{left}", $"{top}", $"{width}", $"{height}");
            var scaled = Path.Combine(made, "scaled.ppm");
            Programs.Run("vips", "thumbnail", crop, scaled, $"{across}", "--height", "10000");
            return Read(File.ReadAllBytes(scaled));
        }
        finally
        {
            Directory.Delete(made, recursive: true);
        }
    }

    // Binary PPM: "P6 width height 255" with comments, then bytes.
    private static SizedArt Read(byte[] ppm)
    {
        var at = 2;
        var (width, height, _) = (Number(), Number(), Number());
        at++;
        return PaintedArt.Of(
            width,
            height,
            width / 10.0,
            (x, y) =>
            {
                var pixel = at + 3 * ((int)(y * height) * width + (int)(x * width));
                return (ppm[pixel] / 255.0, ppm[pixel + 1] / 255.0, ppm[pixel + 2] / 255.0, 1);
            }
        );

        int Number()
        {
            while (ppm[at] is < (byte)'0' or > (byte)'9')
                at = ppm[at] == '#' ? Array.IndexOf(ppm, (byte)'\n', at) : at + 1;
            var text = new StringBuilder();
            while (ppm[at] is >= (byte)'0' and <= (byte)'9')
                text.Append((char)ppm[at++]);
            return int.Parse(text.ToString(), System.Globalization.CultureInfo.InvariantCulture);
        }
    }
}
