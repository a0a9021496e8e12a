using NetVips;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs;

/// <summary>What may be known and refused before one pixel is unpacked.</summary>
internal static class HeaderChecks
{
    /// <summary>A progressive JPEG is held whole in memory several times over while it is decoded.</summary>
    private const long MaxProgressivePixels = 40_000_000;

    public static void Check(Image header, long fileBytes, string format, DecodeLimits limits, List<Finding> findings)
    {
        CheckPixels(header, fileBytes, format, limits);
        if (PagesOf(header, limits) is > 1 and var pages)
            findings.Add(OnlyFirstPage(pages));
    }

    /// <summary>The same for one page of several.</summary>
    public static void CheckPixels(Image header, long fileBytes, string format, DecodeLimits limits)
    {
        var (width, height) = (header.Width, header.Height);
        if (Math.Max(width, height) > limits.MaxSide)
            throw Refused(
                "canvas-too-large",
                $"the canvas is {width} x {height} px; a side may have {limits.MaxSide} px",
                Math.Max(width, height),
                limits.MaxSide
            );
        var pixels = (long)width * height;
        if (pixels > limits.MaxPixels)
            throw Refused(
                "too-many-pixels",
                $"the canvas is {width} x {height} px, {pixels / 1e6:0.#} megapixels; {limits.MaxPixels / 1e6:0.#} are the limit",
                pixels,
                limits.MaxPixels
            );
        if (header.Bands > limits.MaxBands)
            throw Refused(
                "too-many-channels",
                $"the picture has {header.Bands} channels; {limits.MaxBands} are the limit",
                header.Bands,
                limits.MaxBands
            );
        if (header.Format is not (Enums.BandFormat.Uchar or Enums.BandFormat.Ushort))
            throw new UnreadableArt(
                "depth-not-read",
                "the picture is neither 8 nor 16 bits a channel",
                "save it with 8 or 16 bits a channel"
            );
        var unpacked = pixels * header.Bands * (header.Format == Enums.BandFormat.Ushort ? 2 : 1);
        if (unpacked > limits.MaxUnpackedBytes)
            throw Refused(
                "unpacks-too-large",
                $"the picture unpacks to {unpacked >> 20} MiB; {limits.MaxUnpackedBytes >> 20} are the limit",
                unpacked,
                limits.MaxUnpackedBytes
            );
        // A flat logo packs well and is welcome: the ratio only counts where unpacking costs something.
        if (unpacked > 64 << 20 && unpacked / Math.Max(1, fileBytes) > limits.MaxRatio)
            throw Refused(
                "packed-too-tight",
                $"the file unpacks to {unpacked / Math.Max(1, fileBytes)} times its size; {limits.MaxRatio} times is the limit",
                unpacked / Math.Max(1, fileBytes),
                limits.MaxRatio
            );
        if (format == ArtFormat.Jpeg && Has(header, "interlaced") && pixels > MaxProgressivePixels)
            throw Refused(
                "progressive-too-large",
                $"the progressive jpeg has {pixels / 1e6:0.#} megapixels; {MaxProgressivePixels / 1e6:0.#} are the limit",
                pixels,
                MaxProgressivePixels
            );
    }

    /// <summary>"grey", "rgb" or "cmyk".</summary>
    public static string ColourModel(Image header, string format)
    {
        var colours = header.HasAlpha() ? header.Bands - 1 : header.Bands;
        return header.Interpretation switch
        {
            Enums.Interpretation.Bw or Enums.Interpretation.Grey16 when colours == 1 => "grey",
            Enums.Interpretation.Srgb or Enums.Interpretation.Rgb or Enums.Interpretation.Rgb16 when colours == 3 =>
                "rgb",
            Enums.Interpretation.Cmyk when colours == 4 => "cmyk",
            Enums.Interpretation.Multiband when colours == 1 => "grey",
            _ => throw new UnreadableArt(
                "colour-model-not-read",
                $"the {format} file is neither grey, rgb nor cmyk ({header.Bands} channels)",
                "convert it to rgb with its profile embedded and send that"
            ),
        };
    }

    /// <summary>Pages or frames of the file.</summary>
    /// <exception cref="UnreadableArt">More than the limit.</exception>
    public static int PagesOf(Image header, DecodeLimits limits)
    {
        var pages = Has(header, "n-pages") ? (int)header.Get("n-pages") : 1;
        return pages <= limits.MaxPages
            ? pages
            : throw Refused(
                "too-many-pages",
                $"the file has {pages} pages; {limits.MaxPages} are the limit",
                pages,
                limits.MaxPages
            );
    }

    private static Finding OnlyFirstPage(int pages) =>
        new(
            "only-first-page",
            FindingWeight.Warning,
            $"the file has {pages} pages or frames; only the first is used",
            "send the others as files of their own if they are meant to be printed",
            pages,
            1,
            "pages"
        );

    private static bool Has(Image image, string field) => image.Contains(field);

    private static UnreadableArt Refused(string code, string what, double given, double limit) =>
        new(
            code,
            what,
            "scale it down or flatten it: 600 px per inch of print is more than a screen can hold",
            given,
            limit
        );
}
