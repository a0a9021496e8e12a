using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Garments;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments.Photographs;

namespace ProofDesk.Web.Wardrobe;

/// <param name="Reading">Null where the marks measure nothing.</param>
public sealed record MeasuredPhotograph(PhotoReading? Reading, IReadOnlyList<Finding> Findings);

/// <summary>Photographs on their way to a garment, by the digest of the kept file. What was just read or measured is held for the next page.</summary>
public sealed class Photographs(GarmentPhotographs reader, IFileStore files, Office office)
{
    private const int Held = 4;
    private readonly ConcurrentQueue<string> photoOrder = new();
    private readonly ConcurrentDictionary<string, RgbPicture> photos = new();
    private readonly ConcurrentQueue<string> measuredOrder = new();
    private readonly ConcurrentDictionary<string, MeasuredPhotograph> measured = new();

    /// <summary>Keeps an upload as pixels of our own and gives their digest.</summary>
    /// <exception cref="UnreadableArt">Says what is wrong with the file.</exception>
    public async Task<string> KeepAsync(IFormFile upload, CancellationToken cancel)
    {
        await using var bytes = upload.OpenReadStream();
        var kept = await reader.KeptAsync(bytes, cancel);
        using var file = new MemoryStream(kept);
        return (await files.PutAsync(file, cancel)).Sha256;
    }

    /// <summary>Null when no picture of that digest is kept here that could be a photograph.</summary>
    public async Task<RgbPicture?> FindAsync(string sha256, CancellationToken cancel)
    {
        if (photos.TryGetValue(sha256, out var held))
            return held;
        if (sha256.Length != 64 || !sha256.All(char.IsAsciiHexDigitLower))
            return null;
        if (!files.Has(sha256) || await IsArtAsync(sha256, cancel))
            return null;
        try
        {
            var picture = await reader.ReadAsync(await files.ReadCheckedAsync(sha256, cancel), cancel);
            if (Math.Max(picture.Width, picture.Height) > GarmentPhotograph.MostSide)
                return null;
            Hold(photos, photoOrder, sha256, picture);
            return picture;
        }
        catch (UnreadableArt)
        {
            return null;
        }
    }

    /// <summary>What a client sent is shown nowhere as it came, not even to who could name its digest.</summary>
    private async Task<bool> IsArtAsync(string sha256, CancellationToken cancel)
    {
        await using var db = office.Open();
        return await db.OrderPrints.AnyAsync(print => print.ArtSha256 == sha256, cancel);
    }

    /// <param name="key">Digest and marks in words: the same is measured once.</param>
    public MeasuredPhotograph Measure(string key, RgbPicture photo, PhotoMarks marks)
    {
        if (measured.TryGetValue(key, out var held))
            return held;
        var (reading, findings) = PhotoReading.Of(photo, marks);
        var made = new MeasuredPhotograph(reading, findings);
        Hold(measured, measuredOrder, key, made);
        return made;
    }

    private static void Hold<T>(
        ConcurrentDictionary<string, T> held,
        ConcurrentQueue<string> order,
        string key,
        T value
    )
    {
        if (!held.TryAdd(key, value))
            return;
        order.Enqueue(key);
        while (order.Count > Held && order.TryDequeue(out var oldest))
            held.TryRemove(oldest, out _);
    }
}
