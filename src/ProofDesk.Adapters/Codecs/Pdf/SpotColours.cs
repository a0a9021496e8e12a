using NetVips;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>
/// What a spot colour looks like at full strength. The page as it is seen says it best, where the colour stands alone;
/// otherwise the process colour of its tint transform does.
/// </summary>
internal sealed class SpotColours
{
    private readonly PdfPlanes _planes;
    private readonly byte[]? _seen;

    /// <param name="picture">The page as it is seen, at the planes' size: sRGB and alpha.</param>
    public SpotColours(Image picture, PdfPlanes planes)
    {
        _planes = planes;
        _seen = picture.Width == planes.Width && picture.Height == planes.Height ? picture.WriteToMemory<byte>() : null;
    }

    /// <summary>"#rrggbb", or null when the file does not say.</summary>
    public string? Of(string name)
    {
        if (name == "Black")
            return "#000000";
        return Alone(name) ?? (_planes.FullStrength(name) is { } cmyk ? Process(cmyk) : null);
    }

    /// <summary>The commonest colour where this plane is solid and no other prints.</summary>
    private string? Alone(string name)
    {
        if (_seen is null)
            return null;
        var plane = _planes.All.First(p => p.Name == name);
        var counts = new Dictionary<int, int>();
        for (var i = 0; i < plane.Coverage.Pixels.Length; i++)
        {
            if (plane.Coverage.Pixels[i] != 255 || _seen[4 * i + 3] != 255)
                continue;
            var alone = true;
            foreach (var other in _planes.All)
                alone &= ReferenceEquals(other, plane) || other.Coverage.Pixels[i] == 0;
            if (!alone)
                continue;
            var code = _seen[4 * i] << 16 | _seen[4 * i + 1] << 8 | _seen[4 * i + 2];
            counts[code] = counts.GetValueOrDefault(code) + 1;
        }
        return counts.Count == 0 ? null : $"#{counts.MaxBy(c => c.Value).Key:x6}";
    }

    private static string Process(double[] cmyk)
    {
        byte[] pixel = [.. cmyk.Select(c => (byte)Math.Round(255 * c))];
        using var one = Image.NewFromMemory(pixel, 1, 1, 4, Enums.BandFormat.Uchar);
        using var marked = one.Copy(interpretation: Enums.Interpretation.Cmyk);
        using var srgb = marked.IccTransform(
            "srgb",
            inputProfile: "cmyk",
            intent: Enums.Intent.Relative,
            blackPointCompensation: true
        );
        var codes = srgb.WriteToMemory<byte>();
        return $"#{codes[0]:x2}{codes[1]:x2}{codes[2]:x2}";
    }
}
