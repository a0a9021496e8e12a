using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text;

namespace ProofDesk.Printing.Rosters;

/// <summary>Closed outlines in mm; even-odd.</summary>
/// <param name="Contours">Origin: left edge of the first letter, head of the capitals.</param>
/// <param name="AboveMm">How far accents reach above the capitals.</param>
/// <param name="ThinnestMm">The thinnest stroke in it.</param>
public sealed record BlockText(
    ImmutableArray<ImmutableArray<(double X, double Y)>> Contours,
    double WidthMm,
    double HeightMm,
    double AboveMm,
    double ThinnestMm
);

/// <summary>
/// Block letters for shirts, drawn by us as polygons on a grid ten high with strokes two wide and cut corners; no font file is
/// needed and the same name is the same path everywhere. Capitals, digits and the accents of the Latin languages.
/// </summary>
public static class BlockLetters
{
    private const double Gap = 1.2;
    private const double Space = 3;

    // Where the waist of a B or an 8 comes nearest to its holes.
    private const double LetterStroke = 1.4;
    private const double AccentStroke = 1.2;

    public static string Supported =>
        "A to Z with the usual accents, Æ, Ø, digits, space, hyphen, full stop and apostrophe";

    // Each word is a point: column, then row, hexadecimal; a semicolon closes an outline, holes are outlines of their own.
    private static readonly FrozenDictionary<char, string> Glyphs = new Dictionary<char, string>
    {
        ['0'] = "10 50 61 69 5A 1A 09 01;22 42 48 28",
        ['1'] = "11 20 40 4A 2A 23 13",
        ['2'] = "01 10 50 61 65 56 26 28 68 6A 0A 05 14 44 42 22 23 03",
        ['3'] = "01 10 50 61 64 55 66 69 5A 1A 09 07 27 28 48 46 26 24 44 42 22 23 03",
        ['4'] = "00 20 25 45 40 60 6A 4A 47 07",
        ['5'] = "00 60 62 22 24 54 65 69 5A 1A 09 07 27 28 48 46 06",
        ['6'] = "01 10 50 61 63 43 42 22 24 54 65 69 5A 1A 09;26 46 48 28",
        ['7'] = "00 60 63 4A 2A 43 42 02",
        ['8'] = "01 10 50 61 64 55 66 69 5A 1A 09 06 15 04;22 42 44 24;26 46 48 28",
        ['9'] = "69 5A 1A 09 07 27 28 48 46 16 05 01 10 50 61;22 42 44 24",
        ['A'] = "01 10 50 61 6A 4A 47 27 2A 0A;22 42 45 25",
        ['B'] = "00 50 61 64 55 66 69 5A 0A;22 42 44 24;26 46 48 28",
        ['C'] = "01 10 50 61 63 43 42 22 28 48 47 67 69 5A 1A 09",
        ['D'] = "00 50 61 69 5A 0A;22 42 48 28",
        ['E'] = "00 60 62 22 24 54 56 26 28 68 6A 0A",
        ['F'] = "00 60 62 22 24 54 56 26 2A 0A",
        ['G'] = "01 10 50 61 63 43 42 22 28 48 47 37 35 65 69 5A 1A 09",
        ['H'] = "00 20 24 44 40 60 6A 4A 46 26 2A 0A",
        ['I'] = "00 20 2A 0A",
        ['J'] = "40 60 69 5A 1A 09 07 27 28 48",
        ['K'] = "00 20 24 40 60 45 6A 4A 26 2A 0A",
        ['L'] = "00 20 28 68 6A 0A",
        ['M'] = "00 20 44 60 80 8A 6A 64 48 24 2A 0A",
        ['N'] = "00 20 45 40 60 6A 4A 25 2A 0A",
        ['O'] = "10 50 61 69 5A 1A 09 01;22 42 48 28",
        ['P'] = "00 50 61 65 56 26 2A 0A;22 42 44 24",
        ['Q'] = "10 50 61 68 7A 5A 1A 09 01;22 42 48 28",
        ['R'] = "00 50 61 64 55 66 6A 4A 46 26 2A 0A;22 42 44 24",
        ['S'] = "01 10 50 61 63 43 42 22 24 54 65 69 5A 1A 09 07 27 28 48 46 16 05",
        ['T'] = "00 60 62 42 4A 2A 22 02",
        ['U'] = "00 20 28 48 40 60 69 5A 1A 09",
        ['V'] = "00 20 36 40 60 4A 2A",
        ['W'] = "00 20 26 42 66 60 80 8A 6A 46 2A 0A",
        ['X'] = "00 20 33 40 60 45 6A 4A 37 2A 0A 25",
        ['Y'] = "00 20 34 40 60 46 4A 2A 26",
        ['Z'] = "00 60 63 28 68 6A 0A 07 42 02",
        ['\u00C6'] = "01 10 90 92 62 64 84 86 66 68 98 9A 4A 47 27 2A 0A;22 42 45 25",
        ['\u00D8'] = "10 50 61 69 5A 1A 09 01;22 32 25;45 48 38",
        ['-'] = "04 44 46 06",
        ['.'] = "08 28 2A 0A",
        ['\''] = "00 20 23 03",
    }.ToFrozenDictionary();

    // Around the letter's middle, above its head; x y pairs.
    private static readonly FrozenDictionary<char, double[][]> Accents = new Dictionary<char, double[][]>
    {
        ['\u0300'] =
        [
            [-2, -3, 0.2, -3, 1.5, -0.8, -0.4, -0.8],
        ],
        ['\u0301'] =
        [
            [2, -3, -0.2, -3, -1.5, -0.8, 0.4, -0.8],
        ],
        ['\u0302'] =
        [
            [-0.9, -3, 0.9, -3, 2.6, -0.8, 0.9, -0.8, 0, -1.8, -0.9, -0.8, -2.6, -0.8],
        ],
        ['\u030C'] =
        [
            [-0.9, -0.8, 0.9, -0.8, 2.6, -3, 0.9, -3, 0, -2, -0.9, -3, -2.6, -3],
        ],
        ['\u0303'] =
        [
            [
                -2.8,
                -0.9,
                -2.8,
                -2.2,
                -1.8,
                -3,
                -0.7,
                -3,
                0.8,
                -2.3,
                1.4,
                -2.9,
                2.8,
                -2.9,
                2.8,
                -1.7,
                1.8,
                -0.9,
                0.7,
                -0.9,
                -0.8,
                -1.6,
                -1.4,
                -0.9,
            ],
        ],
        ['\u0308'] =
        [
            [-2.6, -2.6, -0.8, -2.6, -0.8, -0.8, -2.6, -0.8],
            [0.8, -2.6, 2.6, -2.6, 2.6, -0.8, 0.8, -0.8],
        ],
        ['\u030A'] =
        [
            [-1.2, -4.6, 1.2, -4.6, 2, -3.8, 2, -1.4, 1.2, -0.6, -1.2, -0.6, -2, -1.4, -2, -3.8],
            [-0.8, -3.4, 0.8, -3.4, 0.8, -1.8, -0.8, -1.8],
        ],
        ['\u0327'] =
        [
            [-0.8, 10.6, 1, 10.6, 1, 12.8, -1.4, 12.8, -1.4, 11.6, -0.8, 11.6],
        ],
    }.ToFrozenDictionary();

    /// <summary>The first character that cannot be set, or null.</summary>
    public static string? Unsupported(string text)
    {
        foreach (var rune in text.Normalize(NormalizationForm.FormD).EnumerateRunes())
            if (
                !rune.IsBmp
                || !(Glyphs.ContainsKey((char)rune.Value) || Accents.ContainsKey((char)rune.Value) || rune.Value == ' ')
            )
                return rune.ToString();
        return null;
    }

    /// <summary>The text with capitals so high.</summary>
    public static BlockText Set(string text, double capitalMm)
    {
        var unit = capitalMm / 10;
        var contours = ImmutableArray.CreateBuilder<ImmutableArray<(double X, double Y)>>();
        double x = 0,
            letterX = 0,
            letterWidth = 0,
            above = 0,
            below = 10;
        var accented = false;
        foreach (var c in text.Normalize(NormalizationForm.FormD))
        {
            if (Accents.TryGetValue(c, out var marks))
            {
                accented = true;
                foreach (var mark in marks)
                {
                    (above, below) = (Math.Min(above, Ys(mark).Min()), Math.Max(below, Ys(mark).Max()));
                    contours.Add([
                        .. Enumerable
                            .Range(0, mark.Length / 2)
                            .Select(i => ((letterX + letterWidth / 2 + mark[2 * i]) * unit, mark[2 * i + 1] * unit)),
                    ]);
                }
                continue;
            }
            if (c == ' ')
            {
                x += Space;
                continue;
            }
            var glyph = Glyphs[c].Split(';').Select(Points).ToArray();
            letterX = x;
            letterWidth = glyph.Max(outline => outline.Max(p => p.X));
            foreach (var outline in glyph)
                contours.Add([.. outline.Select(p => ((letterX + p.X) * unit, p.Y * unit))]);
            x += letterWidth + Gap;
        }
        return new(
            contours.ToImmutable(),
            Math.Max(0, x - Gap) * unit,
            (below - above) * unit,
            -above * unit,
            (accented ? AccentStroke : LetterStroke) * unit
        );
    }

    private static IEnumerable<double> Ys(double[] mark) => mark.Where((_, i) => i % 2 == 1);

    private static (double X, double Y)[] Points(string outline) =>
        [.. outline.Split(' ').Select(p => ((double)Convert.ToInt32(p[..1], 16), (double)Convert.ToInt32(p[1..], 16)))];
}
