using System.Globalization;
using System.Text;
using NetVips;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>One plane that was drawn: 0..255 = 0..100 % of ink.</summary>
internal sealed record PdfPlane(string Name, BytePlane Coverage)
{
    /// <summary>Fainter than this (3 %) is rounding of the drawing program, not ink.</summary>
    public const byte Faint = 8;

    /// <summary>Pixels of solid ink, tints counted by their tone.</summary>
    public double Solid => Sum(Coverage.Pixels) / 255.0;

    /// <summary>Mean coverage, 0..1.</summary>
    public double Share => Solid / Coverage.Pixels.Length;

    public bool IsEmpty => Coverage.Pixels.AsSpan().IndexOfAnyExceptInRange((byte)0, Faint) < 0;

    private static long Sum(byte[] pixels)
    {
        var sum = 0L;
        foreach (var value in pixels)
            sum += value;
        return sum;
    }
}

/// <summary>The planes of a page: process colours first, then spot colours as the page names them.</summary>
internal sealed class PdfPlanes
{
    private static readonly string[] ProcessNames = ["Cyan", "Magenta", "Yellow", "Black"];

    private readonly List<PdfPlane> _planes;
    private readonly string _said;

    private PdfPlanes(List<PdfPlane> planes, string said) => (_planes, _said) = (planes, said);

    public int Width => _planes[0].Coverage.Width;
    public int Height => _planes[0].Coverage.Height;
    public IEnumerable<PdfPlane> Process => _planes.Where(p => ProcessNames.Contains(p.Name));

    /// <summary>In the order the drawing program met them.</summary>
    public IEnumerable<PdfPlane> Spots =>
        _planes
            .Where(p => !ProcessNames.Contains(p.Name))
            .OrderBy(p => _said.IndexOf(Said(p.Name), StringComparison.Ordinal));

    public IReadOnlyList<PdfPlane> All => _planes;

    /// <summary>Takes what all planes have in common from each of them.</summary>
    /// <returns>How much that was, in pixels of solid ink.</returns>
    public double TakeCommon()
    {
        var sum = 0L;
        for (var i = 0; i < _planes[0].Coverage.Pixels.Length; i++)
        {
            var common = byte.MaxValue;
            foreach (var plane in _planes)
                common = Math.Min(common, plane.Coverage.Pixels[i]);
            if (common <= PdfPlane.Faint)
                continue;
            sum += common;
            foreach (var plane in _planes)
                plane.Coverage.Pixels[i] -= common;
        }
        return sum / 255.0;
    }

    /// <summary>What the tint transform gives at full strength, as process colour 0..1; null when nothing was said.</summary>
    public double[]? FullStrength(string name)
    {
        var at = _said.IndexOf(Said(name), StringComparison.Ordinal);
        if (at < 0)
            return null;
        var words = _said.AsSpan(at + Said(name).Length).ToString().Split(' ', 5);
        var cmyk = new double[4];
        for (var i = 0; i < 4; i++)
        {
            if (
                words.Length < 5
                || !int.TryParse(words[i], NumberStyles.None, CultureInfo.InvariantCulture, out var part)
            )
                return null;
            // Ghostscript writes fractions of 32760.
            cmyk[i] = Math.Clamp(part / 32760.0, 0, 1);
        }
        return cmyk;
    }

    /// <summary>Reads what tiffsep left in <paramref name="folder"/>; believes no size and no name.</summary>
    public static PdfPlanes Read(string folder, string said, long mostPixels, DecodeLimits limits)
    {
        var files = Directory.GetFiles(folder, "p(*).tif").Order(StringComparer.Ordinal).ToList();
        if (files.Count < 4)
            throw DrawingProgram.Failed(Ghostscript.Name, said);
        if (files.Count > limits.MaxLayers + 4)
            throw new UnreadableArt(
                "pdf-too-many-spots",
                $"the page names {files.Count - 4} spot colours; {limits.MaxLayers} are the limit",
                "take unused colours out of the file, or merge what is to be one ink",
                files.Count - 4,
                limits.MaxLayers
            );
        var planes = new List<PdfPlane>();
        foreach (var file in files)
        {
            planes.Add(new(NameOf(Path.GetFileName(file)), Plane(file, mostPixels, limits)));
            if (
                planes[^1].Coverage.Width != planes[0].Coverage.Width
                || planes[^1].Coverage.Height != planes[0].Coverage.Height
            )
                throw DrawingProgram.Failed(Ghostscript.Name, said);
        }
        return new(planes, said);
    }

    private static BytePlane Plane(string file, long mostPixels, DecodeLimits limits)
    {
        using var image = Image.NewFromBuffer(File.ReadAllBytes(file), failOn: Enums.FailOn.Truncated);
        if (
            image.Bands != 1
            || image.Format != Enums.BandFormat.Uchar
            || Math.Max(image.Width, image.Height) > limits.MaxSide
            || (long)image.Width * image.Height > mostPixels
        )
            throw DrawingProgram.Failed(Ghostscript.Name, $"{image.Width} x {image.Height} x {image.Bands}");
        var pixels = image.WriteToMemory<byte>();
        // Bright is bare in these files.
        for (var i = 0; i < pixels.Length; i++)
            pixels[i] = (byte)(255 - pixels[i]);
        return new(image.Width, image.Height, pixels);
    }

    /// <summary>"p(Sea%2FSky).tif": what a file system cannot hold stands as a percent sign and two figures.</summary>
    private static string NameOf(string file)
    {
        var inside = file["p(".Length..^").tif".Length];
        var bytes = new List<byte>();
        for (var i = 0; i < inside.Length; i++)
            if (
                inside[i] == '%'
                && i + 2 < inside.Length
                && byte.TryParse(inside.AsSpan(i + 1, 2), NumberStyles.AllowHexSpecifier, null, out var code)
            )
            {
                bytes.Add(code);
                i += 2;
            }
            else
                bytes.AddRange(Encoding.UTF8.GetBytes(inside[i].ToString()));
        var text = Encoding.UTF8.GetString([.. bytes]);
        var plain = FoundText.Plain(text.Contains('\uFFFD') ? Encoding.Latin1.GetString([.. bytes]) : text);
        return plain.Length == 0 ? "spot colour" : plain;
    }

    private static string Said(string name) => $"%%SeparationColor: \"{name}\" 100% ink = ";
}
