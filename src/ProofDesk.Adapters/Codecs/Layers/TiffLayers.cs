using NetVips;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs.Layers;

/// <summary>
/// A TIFF of several pages, each grey or in one colour, is a set of layers: the first page prints first. A file with any other page
/// is read as ever, its first page alone.
/// </summary>
internal static class TiffLayers
{
    /// <returns>Null when the pages are not layers; findings then say why, if it looked like layers.</returns>
    public static DecodedPicture? Read(byte[] file, int pages, DecodeLimits limits, List<Finding> findings)
    {
        var tags = TiffPages.Of(file, Math.Min(pages, limits.MaxPages));
        int[] drawn = [.. Enumerable.Range(0, pages).Where(i => i >= tags.Count || !tags[i].IsPart)];
        if (drawn.Length < 2)
            return null;
        var said = new List<Finding>();
        var read = new List<InkPage>();
        foreach (var i in drawn)
        {
            var (name, title) = Names(tags, drawn, i);
            if (drawn.Length > limits.MaxLayers || ReadPage(file, i, limits, said) is not { } page)
            {
                if (read.Count > 0)
                    findings.Add(SeveralColours(title));
                else if (drawn.Length > limits.MaxLayers)
                    findings.Add(TooMany(drawn.Length, limits));
                return null;
            }
            read.Add(new(title, name, page.Ink, page.Bits, page.HasAlpha));
        }
        findings.AddRange(said.Distinct());
        return PageSet.Of(read, ArtFormat.Tiff, limits, findings);
    }

    private static (OneInk Ink, int Bits, bool HasAlpha)? ReadPage(
        byte[] file,
        int page,
        DecodeLimits limits,
        List<Finding> findings
    )
    {
        using var header = Image.TiffloadBuffer(file, page: page, failOn: Enums.FailOn.Truncated);
        HeaderChecks.CheckPixels(header, file.Length, ArtFormat.Tiff, limits);
        if (header.Interpretation is Enums.Interpretation.Cmyk or Enums.Interpretation.Lab)
            return null;
        using var upright = header.Autorot();
        return OneInk.Of(upright, limits, findings) is { } ink
            ? (ink, header.Format == Enums.BandFormat.Ushort ? 16 : 8, header.HasAlpha())
            : null;
    }

    /// <summary>
    /// The page's own name first, then its description, then the name of the document, unless every page has the same.
    /// </summary>
    private static (string Name, string Said) Names(IReadOnlyList<TiffPage> tags, int[] drawn, int index)
    {
        var number = Array.IndexOf(drawn, index) + 1;
        var tag = index < tags.Count ? tags[index] : null;
        var name =
            tag is null ? null
            : tag.PageName is { } own && Differs(t => t.PageName) ? own
            : tag.Description is { } told && !IsMachines(told) && Differs(t => t.Description) ? told
            : tag.Document is { } document && Differs(t => t.Document) ? document
            : null;
        return name is null ? ($"page {number}", $"page {number}") : (name, $"page {number} \"{name}\"");

        bool Differs(Func<TiffPage, string?> of) =>
            drawn.Where(i => i < tags.Count).Select(i => of(tags[i])).Distinct(StringComparer.Ordinal).Count() > 1;
    }

    /// <summary>Descriptions that programs write for programs.</summary>
    private static bool IsMachines(string text) =>
        text.StartsWith('<') || text.StartsWith('{') || text.Contains('=', StringComparison.Ordinal);

    private static Finding SeveralColours(string page) =>
        new(
            "layers-not-taken",
            FindingWeight.Warning,
            $"the pages are not taken as layers: {page} shows several colours",
            "save every page in grey, dark for ink, or in one colour, if each page is an ink"
        );

    private static Finding TooMany(int pages, DecodeLimits limits) =>
        new(
            "layers-not-taken",
            FindingWeight.Warning,
            $"the {pages} pages are not taken as layers: {limits.MaxLayers} are the limit",
            "send the pages that are inks, and no others",
            pages,
            limits.MaxLayers,
            "layers"
        );
}
