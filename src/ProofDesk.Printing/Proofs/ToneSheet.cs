using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// A plate for a device that makes the dots itself: the tones on the same frame template, marks and label as a film,
/// at the resolution of the plate; 255 = ink. The label says that tones are bound and dots only simulated.
/// </summary>
public sealed class ToneSheet
{
    private ToneSheet(BytePlane tones, FilmSheet sheet) => (Tones, Sheet) = (tones, sheet);

    public BytePlane Tones { get; }

    /// <summary>Where things lie on it.</summary>
    public FilmSheet Sheet { get; }

    public int ImageLeft => Sheet.ImageLeft;
    public int ImageTop => Sheet.ImageTop;

    /// <summary>Resolution its file is tagged with.</summary>
    public (double X, double Y) Dpi => (Sheet.Device.OwnXDpi, Sheet.Device.OwnYDpi);

    /// <param name="film">The simulated film: names the plate and the ruling the device is asked for.</param>
    public static ToneSheet Of(
        Film film,
        OutputDevice device,
        double pixelsPerMm,
        ScreenLayout layout,
        FilmLabel label,
        bool[,] code
    )
    {
        var image = TonePlate.Of(film.Plate);
        var (lpi, angle) = film.TrueScreen;
        var blank = new StoredFilm(film.Plate, new BitPlane(image.Width, image.Height), lpi, angle);
        var dpi = pixelsPerMm * 25.4;
        var sheet = FilmSheet.Of(blank, device with { XDpi = dpi, YDpi = dpi, Mirror = false }, layout, label, code);
        var tones = new BytePlane(sheet.Width, sheet.Height);
        var row = new BitPlane(sheet.Width, 1);
        for (var y = 0; y < sheet.Height; y++)
        {
            sheet.ReadRows(y, row);
            var to = tones.Row(y);
            for (var x = 0; x < to.Length; x++)
                if (row[x, 0])
                    to[x] = 255;
        }
        for (var down = 0; down < layout.Rows; down++)
        for (var across = 0; across < layout.Columns; across++)
        for (var y = 0; y < image.Height; y++)
            image
                .Row(y)
                .CopyTo(
                    tones.Row(sheet.ImageTop + down * sheet.Step.Y + y)[(sheet.ImageLeft + across * sheet.Step.X)..]
                );
        Wedge(tones, sheet, pixelsPerMm, device.Tones);
        if (device.Mirror)
            for (var y = 0; y < tones.Height; y++)
                tones.Row(y).Reverse();
        return new(tones, sheet);
    }

    private static void Wedge(BytePlane tones, FilmSheet sheet, double pixelsPerMm, DeviceTones? device)
    {
        var left = sheet.Width / pixelsPerMm / 2 - FilmSheet.WedgeLeftMm;
        var top = (int)((sheet.ImageTop + sheet.BlockHeight) + sheet.WedgeTopMm * pixelsPerMm) + 2;
        var height = (int)(FilmMarks.WedgeStepMm * pixelsPerMm) - 4;
        for (var step = 1; step <= 10; step++)
        {
            var from = (int)((left + step * FilmMarks.WedgeStepMm) * pixelsPerMm);
            var to = (int)((left + (step + 1) * FilmMarks.WedgeStepMm) * pixelsPerMm);
            for (var y = top; y < top + height; y++)
                tones.Row(y)[from..to].Fill(FilmMarks.WedgeTone(step, device));
        }
    }
}
