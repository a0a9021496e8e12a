using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Rosters;

/// <summary>All lines of a roster on one sheet, numbered as in the file, so that the client can read them one by one.</summary>
internal static class RosterSheet
{
    private const int Across = 4;
    private const int Gap = 12;
    private const int Caption = 30;
    private const int Shrink = 10;
    private const byte Paper = 246;
    private const byte Letters = 40;

    /// <summary>A tenth of the size, averaged in linear light.</summary>
    public static RgbPicture Shrunk(RgbPicture print)
    {
        var small = new RgbPicture(
            Math.Max(1, print.Width / Shrink),
            Math.Max(1, print.Height / Shrink),
            print.PixelsPerMm / Shrink
        );
        var linear = new double[256];
        for (var i = 0; i < 256; i++)
            linear[i] = Srgb.Decode(i / 255.0);
        for (var y = 0; y < small.Height; y++)
        {
            var row = small.Row(y);
            for (var i = 0; i < row.Length; i++)
            {
                double sum = 0;
                for (var yy = 0; yy < Shrink; yy++)
                for (var xx = 0; xx < Shrink; xx++)
                    sum += linear[print.Row(y * Shrink + yy)[3 * (i / 3 * Shrink + xx) + i % 3]];
                row[i] = (byte)Math.Round(255 * Srgb.Encode(sum / (Shrink * Shrink)));
            }
        }
        return small;
    }

    public static RgbPicture LayOut(RgbPicture[] pictures, ImmutableArray<RosterPiece> pieces)
    {
        var (width, height) = (pictures.Max(p => p.Width), pictures.Max(p => p.Height));
        var (stepX, stepY) = (width + Gap, height + Caption + Gap);
        var down = (pictures.Length + Across - 1) / Across;
        var sheet = new RgbPicture(
            Math.Min(Across, pictures.Length) * stepX + Gap,
            down * stepY + Gap,
            pictures[0].PixelsPerMm
        );
        sheet.Pixels.AsSpan().Fill(Paper);
        var letters = new BitPlane(sheet.Width, sheet.Height);
        // A pen that measures in pixels.
        var pen = new FilmPen(letters, 25.4, 25.4);
        for (var i = 0; i < pictures.Length; i++)
        {
            var (x, y) = (Gap + i % Across * stepX, Gap + i / Across * stepY);
            var centred = x + (width - pictures[i].Width) / 2;
            for (var row = 0; row < pictures[i].Height; row++)
                pictures[i].Row(row).CopyTo(sheet.Row(y + row)[(3 * centred)..]);
            pen.Text(x + 2, y + height + 6, 11, CaptionOf(pieces[i].Entry), 0.12);
        }
        for (var y = 0; y < sheet.Height; y++)
        {
            var row = sheet.Row(y);
            for (var x = 0; x < sheet.Width; x++)
                if (letters[x, y])
                    row.Slice(3 * x, 3).Fill(Letters);
        }
        return sheet;
    }

    public static string CaptionOf(RosterEntry entry) =>
        string.Join(
            "  ",
            new[] { $"{entry.Line}:", entry.Name, entry.Number, entry.Size, entry.Colour }.Where(t => t.Length > 0)
        );
}
