using System.IO.Compression;

namespace ProofDesk.Adapters.Codecs.Layers;

/// <summary>
/// A folder of pictures, packed in memory as the zip that somebody might have sent. Names are sorted and the date is fixed, so
/// that the same pictures have the same digest.
/// </summary>
public static class PictureFolder
{
    /// <summary>What zip calls the beginning of time.</summary>
    private static readonly DateTimeOffset NoDate = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <exception cref="UnreadableArt">The files are larger than art may be.</exception>
    public static Stream Packed(string folder, DecodeLimits limits)
    {
        var packed = new MemoryStream();
        using (var zip = new ZipArchive(packed, ZipArchiveMode.Create, leaveOpen: true))
            foreach (var path in Directory.EnumerateFiles(folder).Order(StringComparer.Ordinal))
            {
                if (packed.Length + new FileInfo(path).Length > limits.MaxFileBytes)
                    throw DecodeWorker.TooLarge(limits);
                var entry = zip.CreateEntry(Path.GetFileName(path), CompressionLevel.NoCompression);
                entry.LastWriteTime = NoDate;
                using var file = File.OpenRead(path);
                using var into = entry.Open();
                file.CopyTo(into);
            }
        packed.Position = 0;
        return packed;
    }
}
