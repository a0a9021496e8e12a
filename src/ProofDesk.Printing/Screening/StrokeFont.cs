using System.Collections.Frozen;
using System.Globalization;
using System.Text;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// Letters for films, drawn by us as pen strokes on a grid 4 wide and 6 high (descenders reach 8): no font file is
/// needed, and the same label is the same bits everywhere. Zero has a stroke through it, so that it is not an O.
/// </summary>
internal static class StrokeFont
{
    /// <summary>Grid units from one letter to the next.</summary>
    public const double Advance = 5.4;

    /// <summary>Grid units of a capital's height.</summary>
    public const double CapHeight = 6;

    private const string Unknown = "00 40 46 06 00";

    // Each word is a point, column then row; a semicolon lifts the pen.
    private static readonly FrozenDictionary<char, string> Strokes = new Dictionary<char, string>
    {
        ['A'] = "06 02 20 42 46;04 44",
        ['B'] = "00 30 41 42 33 44 45 36 06 00;03 33",
        ['C'] = "41 30 10 01 05 16 36 45",
        ['D'] = "00 06 26 44 42 20 00",
        ['E'] = "40 00 06 46;03 33",
        ['F'] = "40 00 06;03 33",
        ['G'] = "41 30 10 01 05 16 36 45 43 23",
        ['H'] = "00 06;40 46;03 43",
        ['I'] = "10 30;20 26;16 36",
        ['J'] = "40 45 36 16 05",
        ['K'] = "00 06;40 03 46",
        ['L'] = "00 06 46",
        ['M'] = "06 00 23 40 46",
        ['N'] = "06 00 46 40",
        ['O'] = "10 01 05 16 36 45 41 30 10",
        ['P'] = "06 00 30 41 42 33 03",
        ['Q'] = "10 01 05 16 36 45 41 30 10;24 46",
        ['R'] = "06 00 30 41 42 33 03;23 46",
        ['S'] = "41 30 10 01 02 13 33 44 45 36 16 05",
        ['T'] = "00 40;20 26",
        ['U'] = "00 05 16 36 45 40",
        ['V'] = "00 26 40",
        ['W'] = "00 16 22 36 40",
        ['X'] = "00 46;40 06",
        ['Y'] = "00 23 40;23 26",
        ['Z'] = "00 40 06 46",
        ['0'] = "10 01 05 16 36 45 41 30 10;05 41",
        ['1'] = "11 20 26;16 36",
        ['2'] = "01 10 30 41 42 06 46",
        ['3'] = "01 10 30 41 42 33 44 45 36 16 05;13 33",
        ['4'] = "36 30 04 44",
        ['5'] = "40 00 03 33 44 45 36 16 05",
        ['6'] = "41 30 10 01 05 16 36 45 44 33 03",
        ['7'] = "00 40 16",
        ['8'] = "13 02 01 10 30 41 42 33 13 04 05 16 36 45 44 33",
        ['9'] = "05 16 36 45 41 30 10 01 02 13 43",
        ['a'] = "12 32 43 46 16 05 14 44",
        ['b'] = "00 06 36 45 43 32 02",
        ['c'] = "43 32 12 03 05 16 36 45",
        ['d'] = "40 46 16 05 03 12 42",
        ['e'] = "04 44 43 32 12 03 05 16 36 45",
        ['f'] = "40 30 21 26;13 33",
        ['g'] = "46 16 05 03 12 42 47 38 18 07",
        ['h'] = "00 06;03 12 32 43 46",
        ['i'] = "22 26;20 20",
        ['j'] = "32 37 28 18;30 30",
        ['k'] = "00 06;32 04 46",
        ['l'] = "10 20 25 36",
        ['m'] = "02 06;03 12 23 26;23 32 43 46",
        ['n'] = "02 06;03 12 32 43 46",
        ['o'] = "12 03 05 16 36 45 43 32 12",
        ['p'] = "02 08;02 32 43 45 36 06",
        ['q'] = "42 48;42 12 03 05 16 46",
        ['r'] = "02 06;04 22 32",
        ['s'] = "43 32 12 03 14 34 45 36 16 05",
        ['t'] = "10 15 26 36;02 32",
        ['u'] = "02 05 16 36 45;42 46",
        ['v'] = "02 26 42",
        ['w'] = "02 16 23 36 42",
        ['x'] = "02 46;42 06",
        ['y'] = "02 05 16 46;42 47 38 18 07",
        ['z'] = "02 42 06 46",
        [' '] = "",
        ['.'] = "16 16",
        [','] = "25 17",
        [':'] = "13 13;16 16",
        [';'] = "13 13;15 07",
        ['-'] = "13 33",
        ['+'] = "21 25;03 43",
        ['='] = "02 42;04 44",
        ['/'] = "06 40",
        ['('] = "30 21 25 36",
        [')'] = "10 21 25 16",
        ['['] = "30 10 16 36",
        [']'] = "10 30 36 16",
        ['%'] = "06 40;00 10 11 01 00;35 45 46 36 35",
        ['#'] = "11 15;31 35;02 42;04 44",
        ['&'] = "46 11 10 20 21 03 05 16 26 44",
        ['\''] = "20 21",
        ['"'] = "10 11;30 31",
        ['_'] = "06 46",
        ['*'] = "21 25;12 34;32 14",
        ['!'] = "20 24;26 26",
        ['?'] = "01 10 30 41 42 23 24;26 26",
        ['\u00B0'] = "10 01 12 21 10",
        ['\u00D7'] = "02 46;42 06",
    }.ToFrozenDictionary();

    /// <summary>The letters a text is drawn with: accents are dropped, what has no strokes becomes a box.</summary>
    public static string Plain(string text) =>
        new([
            .. text.Normalize(NormalizationForm.FormD)
                .Where(c => CharUnicodeInfo.GetUnicodeCategory(c) != UnicodeCategory.NonSpacingMark),
        ]);

    /// <summary>Pen strokes of a letter, as runs of grid points.</summary>
    public static IEnumerable<(int X, int Y)[]> Of(char letter) =>
        Strokes
            .GetValueOrDefault(letter, Unknown)
            .Split(';', StringSplitOptions.RemoveEmptyEntries)
            .Select(stroke => stroke.Split(' ').Select(p => (p[0] - '0', p[1] - '0')).ToArray());
}
