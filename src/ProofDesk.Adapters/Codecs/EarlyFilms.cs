using System.Globalization;
using NetVips;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Adapters.Codecs;

/// <summary>What a film file says about itself, as <see cref="PlateFiles"/> wrote it.</summary>
/// <param name="Top">Row of the upper edge of the (first) image.</param>
/// <param name="Bottom">Row below the last image.</param>
internal sealed record FilmNote(int Top, int Bottom, bool Mirrored)
{
    private const string Area = "image area ";
    private const string Several = " images every ";

    public static FilmNote Of(string description)
    {
        var parts = description.Split("; ");
        var area = Array.Find(parts, p => p.StartsWith(Area, StringComparison.Ordinal))?[Area.Length..].Split(' ');
        if (area is not [_, var top, _, var height, "px"])
            throw new InvalidDataException("not a film file of ours: it does not say where its image is");
        var bottom = Number(top) + Number(height);
        // "2 x 3 images every 800 600 px": columns, rows, and the steps from one to the next.
        var several = Array.Find(parts, p => p.Contains(Several, StringComparison.Ordinal))?.Split(' ');
        if (several is [_, "x", var rows, "images", "every", _, var step, "px"])
            bottom += (Number(rows) - 1) * Number(step);
        return new(Number(top), bottom, parts.Contains("mirrored"));
    }

    private static int Number(string text) => int.Parse(text, NumberStyles.None, CultureInfo.InvariantCulture);
}

/// <summary>
/// Stored films with NOT RELEASED put outside the image: to look at before the client has decided. The image is the very bits
/// that are bound; its digest stays.
/// </summary>
public static class EarlyFilms
{
    /// <param name="film">A film file of ours, 1-bit or 8-bit.</param>
    public static void Write(byte[] film, Stream output, CancellationToken cancel = default)
    {
        if (IsOneBit(film))
            WriteDots(film, output, cancel);
        else
            output.Write(Tones(film));
    }

    private static void WriteDots(byte[] film, Stream output, CancellationToken cancel)
    {
        var reader = new G4TiffReader(film);
        var sheet = reader.Read();
        var note = FilmNote.Of(reader.Description);
        FilmStamp.NotReleased(sheet, note.Top, note.Bottom, reader.XDpi, reader.YDpi, note.Mirrored);
        G4Tiff.Write(
            output,
            sheet.Width,
            sheet.Height,
            new(reader.XDpi, reader.YDpi, $"not released; {reader.Description}", "ProofDesk"),
            (top, band) =>
            {
                for (var y = 0; y < band.Height; y++)
                    if (top + y < sheet.Height)
                        sheet.Row(top + y).CopyTo(band.Row(y));
            },
            cancellation: cancel
        );
    }

    private static byte[] Tones(byte[] film)
    {
        Vips.Prepare();
        using var image = Image.NewFromBuffer(film);
        var description = (string)image.Get("image-description");
        using var inked = image.Invert();
        var tones = new BytePlane(image.Width, image.Height, inked.WriteToMemory<byte>());
        var note = FilmNote.Of(description);
        var words = new BitPlane(tones.Width, tones.Height);
        FilmStamp.NotReleased(words, note.Top, note.Bottom, image.Xres * 25.4, image.Yres * 25.4, note.Mirrored);
        for (var y = 0; y < tones.Height; y++)
        for (var x = 0; x < tones.Width; x++)
            if (words[x, y])
                tones[x, y] = 255;
        return PictureWriter.ToneTiff(tones, image.Xres * 25.4, image.Yres * 25.4, $"not released; {description}");
    }

    /// <summary>Bits a sample of 1 (tag 258) in the first directory; what we write as films of dots.</summary>
    private static bool IsOneBit(byte[] film)
    {
        try
        {
            _ = new G4TiffReader(film);
            return true;
        }
        catch (InvalidDataException)
        {
            return false;
        }
    }
}
