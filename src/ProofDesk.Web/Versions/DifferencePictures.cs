using Microsoft.Extensions.Caching.Memory;
using NetVips;
using ProofDesk.Adapters.Files;
using ProofDesk.Imaging.Colour;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Versions;

/// <summary>A difference picture and what it says in numbers.</summary>
/// <param name="ShareApart">of the picture at or above the threshold, 0..1</param>
public sealed record DrawnDifference(
    byte[] Png,
    int Width,
    int Height,
    double Mean,
    double Percentile95,
    double Largest,
    double ShareApart
);

/// <summary>
/// Compares the stored flat prints of two versions on one cloth. Both are brought to one scale, the coarser of the two, and laid on
/// each other by the middle and the upper edge of the ink; where one is smaller its cloth goes on. Bands of the pictures are made
/// from the bound bytes and kept in memory only.
/// </summary>
public sealed class DifferencePictures(IFileStore files, IMemoryCache cache) : IDisposable
{
    /// <summary>Wide enough to find what changed, small enough for half a second.</summary>
    private const int MostPixels = 1000;

    /// <summary>About half a stitch of a tee's knit, and what an eye at arm's length runs together.</summary>
    private const double GrainMm = 0.5;

    private readonly SemaphoreSlim one = new(1);

    public async Task<DrawnDifference> OfAsync(
        (ReadVersion Read, PrintSummary Print, GroundSummary Ground) first,
        (ReadVersion Read, PrintSummary Print, GroundSummary Ground) second,
        CancellationToken cancel
    )
    {
        var (a, b) = (Digest(first.Read, first.Ground), Digest(second.Read, second.Ground));
        var key = $"difference {a} {b}";
        if (cache.TryGetValue<DrawnDifference>(key, out var kept))
            return kept!;
        await one.WaitAsync(cancel);
        try
        {
            if (cache.TryGetValue(key, out kept))
                return kept!;
            var drawn = Draw(
                new(await files.ReadCheckedAsync(a, cancel), first.Print, first.Ground),
                new(await files.ReadCheckedAsync(b, cancel), second.Print, second.Ground)
            );
            return cache.Set(
                key,
                drawn,
                new MemoryCacheEntryOptions { Size = drawn.Png.Length, SlidingExpiration = TimeSpan.FromMinutes(30) }
            );
        }
        finally
        {
            one.Release();
        }
    }

    public void Dispose() => one.Dispose();

    private static string Digest(ReadVersion read, GroundSummary ground) => read.File(ground.PrintPath)!.Sha256;

    private static DrawnDifference Draw(Flat first, Flat second)
    {
        var wideMm = Math.Max(first.WidthMm, second.WidthMm);
        var highMm = Math.Max(first.BelowMm, second.BelowMm) + Math.Max(first.AboveMm, second.AboveMm);
        var perMm = Math.Min(
            Math.Min(first.Ground.PixelsPerMm, second.Ground.PixelsPerMm),
            MostPixels / Math.Max(wideMm, highMm)
        );
        var (width, height) = ((int)Math.Round(wideMm * perMm), (int)Math.Round(highMm * perMm));
        var top = Math.Max(first.AboveMm, second.AboveMm);
        var pixels = first.Laid(perMm, width, height, top);
        var difference = PictureDifference.Of(pixels, second.Laid(perMm, width, height, top), width, height);
        using var picture = Image.NewFromMemoryCopy(
            DifferenceColours.Draw(difference, pixels),
            width,
            height,
            3,
            Enums.BandFormat.Uchar
        );
        return new(
            picture.PngsaveBuffer(compression: 6),
            width,
            height,
            difference.Mean,
            difference.Percentile95,
            difference.Largest,
            difference.ShareFrom(DifferenceColours.Threshold)
        );
    }

    /// <summary>A flat print with its cloth around it: the ink's upper edge lies one margin below the picture's.</summary>
    private sealed record Flat(byte[] Png, PrintSummary Print, GroundSummary Ground)
    {
        public double WidthMm => Print.WidthMm + (2 * Ground.MarginMm);
        public double AboveMm => Ground.MarginMm;
        public double BelowMm => Print.HeightMm + Ground.MarginMm;

        /// <summary>Three bytes a pixel at a scale, on a sheet of a size.</summary>
        public byte[] Laid(double perMm, int width, int height, double topMm)
        {
            using var read = Image.NewFromBuffer(Png);
            using var opaque = read.HasAlpha() ? read.Flatten() : read.Copy();
            using var colour = opaque.Bands == 1 ? opaque.Colourspace(Enums.Interpretation.Srgb) : opaque.Copy();
            using var small = colour.ThumbnailImage(
                Math.Max(1, (int)Math.Round(WidthMm * perMm)),
                height: Math.Max(1, (int)Math.Round((AboveMm + BelowMm) * perMm)),
                size: Enums.Size.Force,
                linear: true
            );
            // Soft by half a millimetre, in linear light: the grain of the cloth is drawn anew for each size and says nothing.
            using var light = small.Colourspace(Enums.Interpretation.Scrgb);
            using var soft = light.Gaussblur(GrainMm * perMm);
            using var even = soft.Colourspace(Enums.Interpretation.Srgb);
            using var laid = even.Embed(
                (width - small.Width) / 2,
                (int)Math.Round((topMm - AboveMm) * perMm),
                width,
                height,
                extend: Enums.Extend.Copy
            );
            using var bytes = laid.Cast(Enums.BandFormat.Uchar);
            return bytes.WriteToMemory<byte>();
        }
    }
}
