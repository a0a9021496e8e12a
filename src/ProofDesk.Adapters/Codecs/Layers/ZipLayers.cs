using System.IO.Compression;
using NetVips;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs.Layers;

/// <summary>
/// A zip of pictures, one an ink: the file's name is the layer's, a number before it is its place in the print order. Nothing
/// is unpacked to disk; what an entry says of its size is not believed but measured while it is read.
/// </summary>
internal static class ZipLayers
{
    /// <summary>Names in a zip may be more than layers: folders, and what a desktop leaves behind.</summary>
    private const int MostEntries = 200;

    private const string OnlyPictures =
        "put only the pictures of one print into the zip, one a layer: png, tiff or jpeg, grey, dark for ink";

    /// <exception cref="UnreadableArt">The zip holds anything but pictures of one size that show one ink each.</exception>
    public static DecodedPicture Read(byte[] file, DecodeLimits limits, List<Finding> findings)
    {
        var left = limits.MaxFileBytes;
        var pages = new List<InkPage>();
        using var zip = Open(file);
        foreach (var entry in Pictures(zip, limits))
        {
            var name = Path.GetFileName(entry.FullName.Replace('\\', '/'));
            var bytes = Unpack(entry, name, limits, ref left);
            pages.Add(ReadPicture(name, bytes, limits, findings));
        }
        var said = findings.Distinct().ToList();
        return PageSet.Of(pages, ArtFormat.Zip, limits, said);
    }

    private static ZipArchive Open(byte[] file)
    {
        try
        {
            var zip = new ZipArchive(new MemoryStream(file, false), ZipArchiveMode.Read);
            // The directory is read when it is first asked for.
            return zip.Entries.Count >= 0 ? zip : throw new InvalidDataException();
        }
        catch (Exception e) when (IsDamage(e))
        {
            throw new UnreadableArt(
                "damaged",
                "the zip file is cut short or damaged",
                "pack it again and send the whole file"
            );
        }
    }

    private static IReadOnlyList<ZipArchiveEntry> Pictures(ZipArchive zip, DecodeLimits limits)
    {
        if (zip.Entries.Count > MostEntries)
            throw new UnreadableArt(
                "zip-too-many-files",
                $"the zip holds {zip.Entries.Count} files; {MostEntries} are looked at, {limits.MaxLayers} may be layers",
                OnlyPictures,
                zip.Entries.Count,
                MostEntries
            );
        var entries = zip.Entries.Where(e => !IsLitter(e.FullName.Replace('\\', '/'))).ToList();
        if (entries.Count == 0)
            throw new UnreadableArt("zip-empty", "the zip holds no picture", OnlyPictures);
        if (entries.Count > limits.MaxLayers)
            throw new UnreadableArt(
                "too-many-layers",
                $"the zip holds {entries.Count} pictures; {limits.MaxLayers} layers are the limit",
                OnlyPictures,
                entries.Count,
                limits.MaxLayers
            );
        if (entries.Find(e => e.IsEncrypted) is { } locked)
            throw new UnreadableArt(
                "zip-locked",
                $"\"{Short(locked.Name)}\" in the zip is locked with a password",
                "pack it again without one"
            );
        return [.. entries.OrderBy(e => Order(e.Name)).ThenBy(e => e.Name, StringComparer.OrdinalIgnoreCase)];
    }

    /// <summary>Folders, and what desktops put into a zip unasked.</summary>
    private static bool IsLitter(string path) =>
        path.EndsWith('/')
        || path.Split('/').Any(part => part.StartsWith('.') || part == "__MACOSX")
        || path.EndsWith("Thumbs.db", StringComparison.OrdinalIgnoreCase)
        || path.EndsWith("desktop.ini", StringComparison.OrdinalIgnoreCase);

    /// <summary>The number before the name; names without one come last.</summary>
    private static int Order(string name)
    {
        var digits = name.TakeWhile(char.IsAsciiDigit).Count();
        return digits is > 0 and <= 6
            ? int.Parse(name.AsSpan(0, digits), System.Globalization.CultureInfo.InvariantCulture)
            : int.MaxValue;
    }

    private static byte[] Unpack(ZipArchiveEntry entry, string name, DecodeLimits limits, ref long left)
    {
        using var unpacked = new MemoryStream();
        try
        {
            using var packed = entry.Open();
            var block = new byte[1 << 16];
            for (int got; (got = packed.Read(block)) > 0; )
            {
                left -= got;
                if (left < 0)
                    throw new UnreadableArt(
                        "zip-unpacks-too-large",
                        $"\"{Short(name)}\" in the zip unpacks to more than the {limits.MaxFileBytes >> 20} MiB that a file may have",
                        OnlyPictures,
                        null,
                        limits.MaxFileBytes
                    );
                unpacked.Write(block, 0, got);
            }
        }
        catch (Exception e) when (IsDamage(e))
        {
            throw new UnreadableArt(
                "damaged",
                $"\"{Short(name)}\" in the zip is damaged",
                "pack it again and send the whole file"
            );
        }
        return unpacked.ToArray();
    }

    private static InkPage ReadPicture(string name, byte[] bytes, DecodeLimits limits, List<Finding> findings)
    {
        var format = FormatOf(bytes);
        if (format is not (ArtFormat.Png or ArtFormat.Tiff or ArtFormat.Jpeg))
            throw new UnreadableArt(
                "zip-holds-other-files",
                $"\"{Short(name)}\" in the zip is no png, tiff or jpeg picture",
                OnlyPictures
            );
        try
        {
            using var header = Image.NewFromBuffer(bytes, failOn: Enums.FailOn.Truncated);
            HeaderChecks.CheckPixels(header, bytes.Length, format, limits);
            if (header.Contains("n-pages") && (int)header.Get("n-pages") is > 1 and var count)
                throw new UnreadableArt(
                    "zip-picture-of-pages",
                    $"\"{Short(name)}\" in the zip has {count} pages; a picture in a zip is one layer",
                    "send the file by itself, or save each page as a file of its own"
                );
            using var upright = header.Autorot();
            if (OneInk.Of(upright, limits, findings) is not { } ink)
                throw new UnreadableArt(
                    "zip-picture-of-colours",
                    $"\"{Short(name)}\" in the zip shows several colours; a layer is one ink",
                    "save it in grey, dark for ink, or send the whole picture by itself to have its colours separated here"
                );
            var bits = header.Format == Enums.BandFormat.Ushort ? 16 : 8;
            return new($"\"{Short(name)}\"", LayerName(name), ink, bits, header.HasAlpha());
        }
        catch (VipsException)
        {
            throw new UnreadableArt(
                "damaged",
                $"\"{Short(name)}\" in the zip is cut short or damaged",
                "export it again from the program that made it and send the whole file"
            );
        }
    }

    /// <summary>What the zip reader throws at files that lie about themselves.</summary>
    private static bool IsDamage(Exception e) =>
        e is InvalidDataException or IOException or NotSupportedException or ArgumentException or OverflowException;

    private static string? FormatOf(byte[] bytes)
    {
        try
        {
            return ArtFormat.Of(bytes);
        }
        catch (UnreadableArt)
        {
            return null;
        }
    }

    private static string LayerName(string file)
    {
        var name = Path.GetFileNameWithoutExtension(file).Trim();
        return name.Length == 0 ? file : name;
    }

    private static string Short(string name) => name.Length <= 60 ? name : name[..57] + "...";
}
