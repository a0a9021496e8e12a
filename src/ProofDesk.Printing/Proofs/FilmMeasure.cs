using System.Runtime.InteropServices;
using System.Security.Cryptography;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Proofs;

/// <summary>What was counted while a film was read once from top to bottom, image area only.</summary>
/// <remarks>
/// The digest is SHA-256 over the rows from the top, each packed eight pixels a byte, leftmost pixel in the highest
/// bit, 1 = ink, the last byte of a row filled with zeros: what a raw PBM or an uncompressed TIFF of the image area
/// holds, so any program can check it. Where the device makes the dots, the tones are what is bound: the digest is over
/// the plate's bytes, row by row, 255 = solid.
/// </remarks>
/// <param name="InkPixels">Film pixels that carry ink.</param>
/// <param name="Pixels">All film pixels of the image area.</param>
/// <param name="AreaCm2">Inked area at the device's resolution, cm2.</param>
/// <param name="Sha256">Digest of the image area's bits, 64 lower-case hexadecimal digits.</param>
public sealed record FilmMeasure(long InkPixels, long Pixels, double AreaCm2, string Sha256)
{
    private const int BandRows = 256;

    public double CoveragePercent => 100.0 * InkPixels / Pixels;

    /// <summary>Reads the film once.</summary>
    public static FilmMeasure Of(Film film, OutputDevice device, CancellationToken cancel = default)
    {
        using var digest = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var rowBytes = (film.Width + 7) / 8;
        var packed = new byte[checked(rowBytes * BandRows)];
        BitPlane? band = null;
        long ink = 0;
        for (var top = 0; top < film.Height; top += BandRows)
        {
            cancel.ThrowIfCancellationRequested();
            var rows = Math.Min(BandRows, film.Height - top);
            band = band?.Height == rows ? band : new(film.Width, rows);
            film.ReadRows(top, band);
            ink += BitRows.CountInk(band);
            for (var y = 0; y < band.Height; y++)
                Pack(band.Row(y), packed.AsSpan(y * rowBytes, rowBytes));
            digest.AppendData(packed, 0, band.Height * rowBytes);
        }
        var bound =
            device.HandOver == HandOver.DotsOurs
                ? digest.GetHashAndReset()
                : SHA256.HashData(TonePlate.Of(film.Plate).Pixels);
        var pixelCm2 = 2.54 / device.XDpi * (2.54 / device.YDpi);
        return new(ink, (long)film.Width * film.Height, ink * pixelCm2, Convert.ToHexStringLower(bound));
    }

    /// <summary>Words with the leftmost pixel lowest to bytes with the leftmost pixel highest.</summary>
    internal static void Pack(ReadOnlySpan<ulong> row, Span<byte> packed)
    {
        Span<ulong> one = stackalloc ulong[1];
        for (int i = 0, at = 0; at < packed.Length; i++, at += 8)
        {
            var v = row[i];
            v = (v >> 1 & 0x5555555555555555) | (v & 0x5555555555555555) << 1;
            v = (v >> 2 & 0x3333333333333333) | (v & 0x3333333333333333) << 2;
            v = (v >> 4 & 0x0F0F0F0F0F0F0F0F) | (v & 0x0F0F0F0F0F0F0F0F) << 4;
            one[0] = v;
            var bytes = MemoryMarshal.AsBytes(one);
            bytes[..Math.Min(8, packed.Length - at)].CopyTo(packed[at..]);
        }
    }
}
