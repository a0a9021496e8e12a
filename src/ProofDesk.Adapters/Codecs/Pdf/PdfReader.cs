using System.Diagnostics;
using NetVips;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>
/// A page of a PDF becomes art. Pages of spot colours keep them as layers; everything else is one picture, drawn as
/// finely as a vector drawing. A small drawing comes first: it finds what is inked and which plates print.
/// </summary>
internal sealed class PdfReader
{
    private const double TrialSide = 1000;

    private readonly PdfWish _wish;
    private readonly DecodeLimits _limits;
    private readonly double _printWidthMm;
    private readonly PdfPage _page;
    private readonly List<Finding> _findings = [];
    private readonly Ghostscript? _ghostscript;
    private readonly Poppler? _poppler;

    private PdfReader(byte[] file, PdfWish wish, double printWidthMm, DecodeLimits limits)
    {
        if (wish is { Ghostscript: null, Poppler: null })
            throw PdfPrograms.Missing();
        (_wish, _limits, _printWidthMm) = (wish, limits, printWidthMm);
        var clock = Stopwatch.StartNew();
        // Our own end comes before the parent's, so that the reason can still be said.
        var end = limits.WallClock * 0.8;
        TimeSpan Left() => end > clock.Elapsed ? end - clock.Elapsed : TimeSpan.FromMilliseconds(1);
        _page = PdfInspection.Of(file, wish.Page, limits);
        var art = Path.Combine(wish.Scratch, "art.pdf");
        File.WriteAllBytes(art, file);
        _ghostscript = wish.Ghostscript is { } gs ? new(gs, wish.Scratch, art, Left) : null;
        _poppler = wish.Poppler is { } poppler ? new(poppler, wish.Scratch, art, Left) : null;
    }

    public static DecodedPicture Read(byte[] file, PdfWish wish, double printWidthMm, DecodeLimits limits) =>
        new PdfReader(file, wish, printWidthMm, limits).Read();

    private DecodedPicture Read()
    {
        var trialDpi = TrialSide / (Math.Max(_page.WidthPoints, _page.HeightPoints) / 72);
        var whole = PdfWindow.Whole(_page);
        using var trial = Picture(trialDpi, whole);
        var spots = _page.Uses.Spots;
        if (spots.Count > 0 && _ghostscript is null)
            _findings.Add(PdfFindings.SpotsNeedGhostscript(spots));
        if (spots.Count > 0 && _ghostscript is not null)
        {
            var planes = Planes(trialDpi, whole);
            var marks = LeaveOutMarks(planes);
            var printing = planes.Spots.Where(p => !p.IsEmpty).ToList();
            var process = planes.Process.Where(p => !p.IsEmpty).ToList();
            if (printing.Count > 0 && process.TrueForAll(p => p.Name == "Black"))
                return Layers(trial, planes, marks);
            if (printing.Count > 0)
                _findings.Add(PdfFindings.SpotsNotKept(printing, process));
        }
        return Flat(trial);
    }

    private DecodedPicture Flat(Image trial)
    {
        using var alpha = trial[3];
        var window = PdfWindow.Around(alpha, _page);
        var dpi = FinalDpi(window);
        using var drawn = Picture(dpi, window);
        using var colour = drawn.ExtractBand(0, 3);
        using var wide = (colour * 257).Cast(Enums.BandFormat.Ushort);
        using var opacity = (drawn[3] * 257).Cast(Enums.BandFormat.Ushort);
        var pixels = LinearLight.From(wide, opacity);
        if (_page.Uses.All)
            _findings.Add(PdfFindings.MarksDrawn());
        if (_page.Uses.OverprintStates > 0)
            _findings.Add(PdfFindings.OverprintNotDrawn(_page.Uses.OverprintStates));
        return Told(pixels, "rgb", window, dpi);
    }

    /// <param name="marks">Pixels of the small drawing that were painted in the registration colour.</param>
    private DecodedPicture Layers(Image trial, PdfPlanes small, double marks)
    {
        using var ink = Ink(small);
        var window = PdfWindow.Around(ink, _page);
        var dpi = FinalDpi(window);
        var planes = Planes(dpi, window);
        var squareMm = Math.Pow(_printWidthMm / (window.InkedWidth / 72 * dpi), 2);
        LeaveOutMarks(planes);
        if (marks > 0)
            _findings.Add(
                PdfFindings.MarksLeftOut(
                    marks * Math.Pow(_page.WidthPoints / small.Width * (_printWidthMm / window.InkedWidth), 2)
                )
            );
        var kept = planes.Spots.Concat(planes.Process.Where(p => p.Name == "Black")).Where(p => !p.IsEmpty).ToList();
        var spots = kept.Where(p => p.Name != "Black").ToList();
        if (spots.Count == 0)
            return Flat(trial);
        _findings.Add(PdfFindings.SpotsKept(spots, squareMm));
        if (kept.Find(p => p.Name == "Black") is { } black)
            _findings.Add(PdfFindings.BlackKept(black, squareMm));
        var idle = planes.Spots.Where(p => p.IsEmpty).Select(p => p.Name).ToList();
        if (idle.Count > 0)
            _findings.Add(PdfFindings.SpotsUnprinted(idle));
        WhitePainted(trial, small, window);
        if (_page.Uses.OverprintStates > 0)
            _findings.Add(PdfFindings.Overprint(_page.Uses.OverprintStates, Overlap(kept) * squareMm));
        var colours = new SpotColours(trial, small);
        var layers = kept.Select(p => new ArtLayer(p.Name, colours.Of(p.Name), p.Coverage)).ToList();
        var pixels = SpotComposite.Of(
            [.. layers.Select(l => l.Coverage)],
            [.. layers.Select(l => SpotComposite.Light(l.Colour))]
        );
        return Told(pixels, "spot", window, dpi) with { Layers = [.. layers] };
    }

    private DecodedPicture Told(RgbaRaster pixels, string model, PdfWindow window, double dpi)
    {
        var scale = _printWidthMm / PdfInspection.Millimetres(window.InkedWidth);
        var drawnBy = _ghostscript?.Version() ?? _poppler!.Version();
        var words = _page.Words;
        List<Finding> all =
        [
            .. PdfFindings.Page(_page, window.InkedWidth, _printWidthMm, dpi / scale, drawnBy),
            .. _findings,
            .. PdfFindings.Contents(_page),
            .. PdfFindings.Pictures(_page, scale),
            .. FoundText.Of(words),
        ];
        var source = new ArtSource(ArtFormat.Pdf, pixels.Width, pixels.Height, 8, model, null, true, true)
        {
            Page = _page.Number,
            DrawnBy = drawnBy,
        };
        return new(pixels, source, all) { Words = words };
    }

    /// <summary>As a drawn svg: 600 dpi over the inked width, as far as the limits of pixels go.</summary>
    private double FinalDpi(PdfWindow window)
    {
        var (width, height) = (window.Width / 72, window.Height / 72);
        var wanted = _printWidthMm / 25.4 * PictureReader.VectorDpi / (window.InkedWidth / 72);
        var byPixels = Math.Sqrt(_limits.MaxVectorPixels / (width * height));
        var bySide = (_limits.MaxSide - 2.0) / Math.Max(width, height);
        return Math.Min(wanted, Math.Min(byPixels, bySide));
    }

    private PdfPlanes Planes(double dpi, PdfWindow window)
    {
        var (folder, said) = _ghostscript!.Planes(_page, dpi, window);
        return PdfPlanes.Read(folder, said, MostPixels(window, dpi), _limits);
    }

    private Image Picture(double dpi, PdfWindow window)
    {
        var file = _ghostscript?.Picture(_page, dpi, window) ?? _poppler!.Picture(_page, dpi, window);
        var mostPixels = MostPixels(window, dpi);
        if (!File.Exists(file))
            throw DrawingProgram.Failed(_ghostscript is null ? Poppler.Name : Ghostscript.Name, "no picture");
        using var header = Image.NewFromBuffer(File.ReadAllBytes(file), failOn: Enums.FailOn.Truncated);
        if (
            header.Bands is not (3 or 4)
            || header.Format != Enums.BandFormat.Uchar
            || Math.Max(header.Width, header.Height) > _limits.MaxSide
            || (long)header.Width * header.Height > mostPixels
        )
            throw DrawingProgram.Failed(Ghostscript.Name, $"{header.Width} x {header.Height} x {header.Bands}");
        using var whole = header.Bands == 3 ? header.Bandjoin(255) : header.Copy();
        return whole.CopyMemory();
    }

    /// <summary>What was asked for and a little more, because programs round in their own ways.</summary>
    private static long MostPixels(PdfWindow window, double dpi) =>
        (window.Columns(dpi) + 2L) * (window.Rows(dpi) + 2L);

    private static Image Ink(PdfPlanes planes)
    {
        var most = new byte[planes.Width * planes.Height];
        foreach (var plane in planes.All)
            for (var i = 0; i < most.Length; i++)
                most[i] = Math.Max(most[i], plane.Coverage.Pixels[i]);
        using var view = Image.NewFromMemory(most, planes.Width, planes.Height, 1, Enums.BandFormat.Uchar);
        return view.CopyMemory();
    }

    /// <summary>Where every plate of the page, the process ones included, prints at once, the colour All was painted.</summary>
    /// <returns>Pixels that were taken from every plane.</returns>
    private double LeaveOutMarks(PdfPlanes planes) => _page.Uses.All ? planes.TakeCommon() : 0;

    /// <summary>Pixels that two plates or more print on.</summary>
    private static int Overlap(List<PdfPlane> planes)
    {
        var counts = new byte[planes[0].Coverage.Pixels.Length];
        foreach (var pixels in planes.Select(p => p.Coverage.Pixels))
            for (var i = 0; i < counts.Length; i++)
                if (pixels[i] >= 128)
                    counts[i]++;
        return counts.Count(c => c > 1);
    }

    private void WhitePainted(Image trial, PdfPlanes planes, PdfWindow window)
    {
        if (trial.Width != planes.Width || trial.Height != planes.Height)
            return;
        using var alpha = trial[3];
        var opaque = alpha.WriteToMemory<byte>();
        var (white, border, edge) = (0, 0, 0);
        for (var y = 0; y < planes.Height; y++)
        for (var x = 0; x < planes.Width; x++)
        {
            var i = y * planes.Width + x;
            var isWhite = opaque[i] > 250 && planes.All.All(p => p.Coverage.Pixels[i] <= PdfPlane.Faint);
            white += isWhite ? 1 : 0;
            if (x > 0 && y > 0 && x < planes.Width - 1 && y < planes.Height - 1)
                continue;
            border++;
            edge += isWhite ? 1 : 0;
        }
        var mm = _page.WidthPoints / planes.Width * (_printWidthMm / window.InkedWidth);
        // A square of 3 mm: less is the gap that antialiasing leaves between colours that meet.
        if (white * mm * mm > 9)
            _findings.Add(PdfFindings.WhiteIsCloth(white * mm * mm, edge > border / 2));
    }
}
