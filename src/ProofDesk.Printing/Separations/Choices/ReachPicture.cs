using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>
/// A picture of <see cref="Reach"/>: the art in grey, what the print cannot follow in three strong colours by how far it was moved,
/// and under it what they mean. The colours differ in lightness as well, so that they tell apart without hue.
/// </summary>
public static class ReachPicture
{
    private const byte Ink = 40;
    private const double LetterPx = 15;
    private const int Margin = 12;

    /// <summary>Classes of the move, CIEDE2000, and what shows them.</summary>
    private static readonly ImmutableArray<(double From, string Words, byte R, byte G, byte B)> Classes =
    [
        (2, "2 to 5", 255, 200, 40),
        (5, "5 to 10", 240, 90, 40),
        (10, "over 10", 140, 20, 110),
    ];

    public static RgbPicture Draw(Reach reach)
    {
        var (width, height) = (reach.Moved.Width, reach.Moved.Height);
        var lines = Lines(reach);
        var letters = Math.Min(
            LetterPx,
            0.9 * (width - 2 * Margin) / (lines.Max(l => l.Length) * StrokeFont.Advance / StrokeFont.CapHeight)
        );
        var line = (int)Math.Ceiling(2.1 * letters);
        var picture = new RgbPicture(width, height + 2 * Margin + line * lines.Length, reach.PixelsPerMm);
        picture.Pixels.AsSpan().Fill(Reach.Paper);
        for (var y = 0; y < height; y++)
            Row(reach.Moved.Row(y), reach.Grey.Row(y), picture.Row(y));
        Legend(picture, lines, height + Margin, line, letters);
        return picture;
    }

    private static void Row(ReadOnlySpan<byte> moved, ReadOnlySpan<byte> grey, Span<byte> to)
    {
        for (var x = 0; x < moved.Length; x++)
        {
            var place = ClassOf(moved[x]);
            if (place < 0)
            {
                // Half of the tones, from black up: signal colours must not drown in highlights.
                to.Slice(3 * x, 3).Fill(grey[x] == Reach.Paper ? Reach.Paper : (byte)(30 + grey[x] * 3 / 4));
                continue;
            }
            (to[3 * x], to[3 * x + 1], to[3 * x + 2]) = (Classes[place].R, Classes[place].G, Classes[place].B);
        }
    }

    private static int ClassOf(byte moved)
    {
        var place = -1;
        while (place + 1 < Classes.Length && moved > Reach.Fifths * Classes[place + 1].From)
            place++;
        return place;
    }

    private static string[] Lines(Reach reach)
    {
        var cloth = reach.Ground.Colour.Name.ToLowerInvariant();
        var inked = 0L;
        var counts = new long[Classes.Length];
        for (var y = 0; y < reach.Moved.Height; y++)
        {
            var moved = reach.Moved.Row(y);
            var grey = reach.Grey.Row(y);
            for (var x = 0; x < moved.Length; x++)
            {
                if (ClassOf(moved[x]) is >= 0 and var place)
                    counts[place]++;
                if (grey[x] != Reach.Paper || moved[x] > 0)
                    inked++;
            }
        }
        return
        [
            reach.OutOfReachShare > 0
                ? ArtChecks.Text(
                    $"on {cloth}: {100 * reach.OutOfReachShare:0.0} % out of reach, moved {reach.MeanMove:0.0} dE00 on average, {reach.MostMove:0.0} at most"
                )
                : ArtChecks.Text($"on {cloth}: all of the art is within reach"),
            .. Classes.Select(
                (c, i) => ArtChecks.Text($"{c.Words} dE00: {(inked > 0 ? 100.0 * counts[i] / inked : 0):0.0} %")
            ),
        ];
    }

    private static void Legend(RgbPicture picture, string[] lines, int top, int line, double letters)
    {
        var marks = new BitPlane(picture.Width, picture.Height);
        // A pen that measures in pixels.
        var pen = new FilmPen(marks, 25.4, 25.4);
        for (var i = 0; i < lines.Length; i++)
        {
            var y = top + i * line;
            pen.Text(Margin + (i == 0 ? 0 : 2 * letters), y, letters, lines[i]);
            if (i == 0)
                continue;
            var (_, _, r, g, b) = Classes[i - 1];
            for (var row = y; row < y + letters && row < picture.Height; row++)
            for (var x = Margin; x < Margin + (int)(1.4 * letters) && x < picture.Width; x++)
            {
                var at = picture.Row(row);
                (at[3 * x], at[3 * x + 1], at[3 * x + 2]) = (r, g, b);
            }
        }
        for (var y = top; y < picture.Height; y++)
        {
            var row = picture.Row(y);
            for (var x = 0; x < picture.Width; x++)
                if (marks[x, y])
                    row.Slice(3 * x, 3).Fill(Ink);
        }
    }
}
