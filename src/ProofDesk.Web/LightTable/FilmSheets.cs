using System.Globalization;
using Microsoft.Extensions.Caching.Memory;
using NetVips;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Web.LightTable;

/// <summary>
/// A film as a clear sheet with its ink on it: the bound view of the film, which was averaged from its bits, as the opacity
/// of one colour. Made when asked for and kept in memory.
/// </summary>
public sealed class FilmSheets(IFileStore files, IMemoryCache cache)
{
    /// <param name="sha256">Digest of the bound view: black is ink.</param>
    /// <param name="hex">"#c8332b".</param>
    public async Task<byte[]> DrawAsync(string sha256, string hex, CancellationToken cancel)
    {
        var key = $"sheet {sha256} {hex}";
        if (cache.TryGetValue<byte[]>(key, out var kept))
            return kept!;
        var made = Draw(await files.ReadCheckedAsync(sha256, cancel), Channels(hex));
        return cache.Set(
            key,
            made,
            new MemoryCacheEntryOptions { Size = made.Length + 1, SlidingExpiration = TimeSpan.FromMinutes(30) }
        );
    }

    private static byte[] Draw(byte[] view, double[] colour)
    {
        using var read = Image.NewFromBuffer(view);
        using var grey = read.ExtractBand(0);
        using var ink = grey.Invert();
        using var plain = ink.NewFromImage(colour);
        using var sheet = plain.Bandjoin(ink);
        using var tagged = sheet.Copy(interpretation: Enums.Interpretation.Srgb);
        return tagged.PngsaveBuffer(compression: 6, keep: Enums.ForeignKeep.None);
    }

    private static double[] Channels(string hex) => [Channel(hex, 1), Channel(hex, 3), Channel(hex, 5)];

    private static double Channel(string hex, int at) =>
        int.Parse(hex.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
}
