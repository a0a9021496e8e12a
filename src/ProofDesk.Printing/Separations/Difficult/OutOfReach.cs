using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Separations.Inverse;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.Difficult;

/// <summary>Colours of painted art that the plates do not reach, by name, with the nearest print and the place.</summary>
internal static class OutOfReach
{
    /// <summary>A client sees this without looking for it (CIEDE2000), and on this share of the art.</summary>
    private const double Far = 10;
    private const double LeastShare = 0.01;

    /// <summary>Nobody sees the hue of what is nearly black (CIELAB lightness).</summary>
    private const double Dark = 30;

    private const int MostNamed = 3;

    private sealed record Missed(ToneShare Tone, Oklab Printed, double Off);

    /// <param name="ground">Index into the table's grounds.</param>
    public static IEnumerable<Finding> Of(
        SeparationTable table,
        int ground,
        ImmutableArray<ToneShare> tones,
        SizedArt art
    )
    {
        var (model, gamut) = (table.Grounds[ground].Model, table.Grounds[ground].Gamut);
        var work = new PlateModel.Work(table.Plates);
        var coverages = new float[table.Plates];
        var missed = new List<Missed>();
        foreach (var tone in tones)
        {
            table.Coverages(tone.Colour, coverages);
            var printed = CieLab.FromXyz(model.Xyz(coverages, work), TonalGround.Light);
            var ideal = TonalFit.LabOf(gamut.Ideal(tone.Colour));
            var off = Ciede2000.Difference(printed, ideal);
            if (off > Far && ideal.L > Dark)
                missed.Add(new(tone, Seen(printed), off));
        }
        // Dark green, bright green: one family, its name the last word.
        var families = missed
            .GroupBy(m => ColourNames.Of(Srgb.ToLab(m.Tone.Colour)).Split(' ')[^1])
            .Select(f => (Tones: f.ToArray(), Share: f.Sum(m => m.Tone.Share)))
            .Where(f => f.Share >= LeastShare)
            .OrderByDescending(f => f.Tones.Sum(m => m.Tone.Share * m.Off))
            .Take(MostNamed);
        var cloth = table.Grounds[ground].Ground.Colour.Name.ToLowerInvariant();
        foreach (var (family, share) in families)
        {
            var worst = family.MaxBy(m => m.Tone.Share * m.Off)!;
            var (x, y, spot) = Place(art, [.. family.Select(m => m.Tone)]);
            yield return new(
                "out-of-reach",
                FindingWeight.Warning,
                Text(
                    $"{Name(worst.Tone.Colour)} ({Hex(worst.Tone.Colour)}) is out of reach on {cloth}: the nearest print is {Hex(worst.Printed.ToLinear())}, {worst.Off:0} dE00 away, {Far:0} is seen at once; it stands on {100 * share:0} % of the art, most of it round {x:0} mm from the left and {y:0} mm from the top"
                ),
                "show the client the proof and say so, list an ink nearer to it (a fluorescent one, which no screen picture shows truly), or change the colour",
                Math.Round(worst.Off, 1),
                Far,
                "dE00"
            )
            {
                Spot = spot,
            };
        }
    }

    private static string Name(LinearRgb colour)
    {
        var seen = Oklab.FromLinear(colour);
        var plain = ColourNames.Of(Srgb.ToLab(colour)).ToLowerInvariant();
        return seen is { L: > 0.6, Chroma: > 0.2 }
            ? "neon " + plain.Replace("bright ", "", StringComparison.Ordinal)
            : plain;
    }

    private static Oklab Seen(Lab printed) =>
        Oklab.FromLinear(
            GamutMapping.IntoSrgb(Srgb.FromXyz(CieLab.ToXyz(printed, TonalGround.Light), TonalGround.Light))
        );

    private static string Hex(LinearRgb c)
    {
        static int Code(double v) => (int)Math.Round(255 * Srgb.Encode(Math.Clamp(v, 0, 1)));
        return $"#{Code(c.R):x2}{Code(c.G):x2}{Code(c.B):x2}";
    }

    /// <summary>Centre of gravity of the art's pixels of these tones, mm, and where most of them lie together.</summary>
    private static (double X, double Y, FindingSpot? Spot) Place(SizedArt art, ToneShare[] tones)
    {
        var where = new SpotGrid(art.Pixels.Width, art.Pixels.Height, art.PixelsPerMm);
        var codes = new SrgbCodes();
        var cells = tones.Select(t => Cell(Code(t.Colour.R), Code(t.Colour.G), Code(t.Colour.B))).ToHashSet();
        var step = Math.Max(1, art.Pixels.Height / 400);
        double x = 0,
            y = 0;
        var count = 0;
        for (var row = step / 2; row < art.Pixels.Height; row += step)
        {
            var pixels = art.Pixels.Row(row);
            for (var i = 0; i < pixels.Length; i += 4)
                if (
                    pixels[i + 3] >= 6554
                    && cells.Contains(Cell(codes[pixels[i]], codes[pixels[i + 1]], codes[pixels[i + 2]]))
                )
                {
                    (x, y, count) = (x + i / 4, y + row, count + 1);
                    where.Add(i / 4, row);
                }
        }
        return count == 0 ? (0, 0, null) : (x / count / art.PixelsPerMm, y / count / art.PixelsPerMm, where.Densest());

        static int Code(double linear) => (int)Math.Round(255 * Srgb.Encode(Math.Clamp(linear, 0, 1)));

        static int Cell(int r, int g, int b) => r >> 4 << 8 | g >> 4 << 4 | b >> 4;
    }
}
