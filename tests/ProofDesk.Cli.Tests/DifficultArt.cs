using NetVips;

namespace ProofDesk.Cli.Tests;

/// <summary>Art that cannot be separated well, drawn when a test runs and saved by libvips as a client's program would.</summary>
internal static class DifficultArt
{
    private delegate (double R, double G, double B) Brush(double x, double y);

    /// <summary>All of them, by the name of the file.</summary>
    public static void Make(string folder)
    {
        string In(string name) => Path.Combine(folder, name);
        using (var neon = Picture(1800, 1200, Neon))
            neon.WriteToFile(In("neon.png"));
        using (var photograph = Picture(794, 595, Dusk))
            photograph.Jpegsave(In("photo-72dpi.jpg"), q: 85);
        File.WriteAllText(In("hairlines.svg"), Hairlines());
        File.WriteAllText(In("logo.svg"), Logo);
        using (var logo = Image.SvgloadBuffer(System.Text.Encoding.UTF8.GetBytes(Logo)))
        using (var onWhite = logo.Flatten(background: [255, 255, 255]))
            onWhite.Jpegsave(In("logo.jpg"), q: 55);
    }

    private static Image Picture(int width, int height, Brush brush)
    {
        var pixels = new byte[3 * width * height];
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
        {
            var (r, g, b) = brush((x + 0.5) / width, (y + 0.5) / height);
            var at = 3 * (y * width + x);
            (pixels[at], pixels[at + 1], pixels[at + 2]) = (Code(r), Code(g), Code(b));
        }
        using var picture = Image.NewFromMemory(pixels, width, height, 3, Enums.BandFormat.Uchar);
        return picture.Copy(interpretation: Enums.Interpretation.Srgb);

        static byte Code(double value) => (byte)Math.Round(255 * Math.Clamp(value, 0, 1));
    }

    /// <summary>Neon green to cyan to magenta, glowing out into black.</summary>
    private static (double, double, double) Neon(double x, double y)
    {
        var glow = Math.Clamp(
            1.3 * (1 - Math.Sqrt(Math.Pow((x - 0.5) / 0.45, 2) + Math.Pow((y - 0.5) / 0.42, 2))),
            0,
            1
        );
        var along = Math.Clamp((x - 0.3) / 0.4, 0, 1);
        var (green, magenta) = (Math.Clamp(1 - 2 * along, 0, 1), Math.Clamp(2 * along - 1, 0, 1));
        var cyan = 1 - Math.Abs(2 * along - 1);
        return (
            glow * (0.22 * green + magenta),
            glow * (green + 0.06 * magenta + 0.94 * cyan),
            glow * (0.08 * green + 0.94 * magenta + cyan)
        );
    }

    /// <summary>A dusk over hills, soft everywhere, with the grain of a camera.</summary>
    private static (double, double, double) Dusk(double x, double y)
    {
        var sky = Math.Clamp(y / 0.6, 0, 1);
        var (r, g, b) = (0.12 + 0.8 * sky, 0.16 + 0.45 * sky * sky, 0.45 - 0.2 * sky);
        var sun = Math.Exp(-(Math.Pow(x - 0.7, 2) + Math.Pow(y - 0.5, 2)) / 0.006);
        (r, g, b) = (r + sun * (1 - r), g + sun * (0.92 - g), b + sun * (0.6 - b));
        if (y > 0.55 + 0.06 * Math.Sin(9 * x) + 0.03 * Math.Sin(23 * x + 1))
            (r, g, b) = (0.1 + 0.15 * x, 0.28 + 0.2 * (y - 0.6), 0.16 + 0.1 * x);
        var grain = 0.02 * Math.Sin(91_733 * x + 71_993 * y);
        return (r + grain, g + grain, b + grain);
    }

    private static string Hairlines()
    {
        var lines = Enumerable
            .Range(0, 16)
            .Select(i => $"""<path d="M4 {8 * i + 4}H296" stroke="#fff" stroke-width=".1"/>""");
        return $"""
            <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 200">
            <rect x="4" y="140" width="292" height="56" fill="#c02030"/>
            {string.Concat(lines)}
            <path d="M10 134 L150 20 L166 20 Z" fill="#e8c020"/>
            </svg>
            """;
    }

    private const string Logo = """
        <svg xmlns="http://www.w3.org/2000/svg" width="1600" height="900" viewBox="0 0 160 90">
        <circle cx="45" cy="45" r="35" fill="#c8102e"/>
        <circle cx="34" cy="34" r="9" fill="#fff"/>
        <path d="M60 62V28H76L86 46L96 28H112V62H101V44L90 62H82L71 44V62Z" fill="#12284c"/>
        <path d="M118 28H150V37H129V41H147V49H129V53H150V62H118Z" fill="#12284c"/>
        </svg>
        """;
}
