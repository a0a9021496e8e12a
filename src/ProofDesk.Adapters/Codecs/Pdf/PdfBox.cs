using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Tokenization.Scanner;
using UglyToad.PdfPig.Tokens;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>
/// Which part of the page is the art (ISO 32000-1, 14.11.2). The finished size is asked first: what lies outside it is
/// marks and bleed of paper. Bleed is no use on cloth, so its box is never the art.
/// </summary>
/// <param name="Name">"trim", "art", "crop" or "media".</param>
internal sealed record PdfBox(string Name, double Left, double Bottom, double Right, double Top)
{
    private const double LeastPoints = 1;

    public double Width => Right - Left;
    public double Height => Top - Bottom;

    /// <param name="pageHas">Boxes written in the page itself or inherited, by their key.</param>
    public static PdfBox Of(Func<string, PdfRectangle?> pageHas, PdfRectangle media)
    {
        var whole = new PdfBox("media", media.Left, media.Bottom, media.Right, media.Top);
        var crop = Inside(pageHas("CropBox"), "crop", whole);
        foreach (var (key, name) in new[] { ("TrimBox", "trim"), ("ArtBox", "art") })
            if (Inside(pageHas(key), name, crop ?? whole) is { } box)
                return box;
        return crop ?? whole;
    }

    public static PdfRectangle? Read(DictionaryToken page, string key, IPdfTokenScanner scanner)
    {
        if (
            !page.TryGet(NameToken.Create(key), out var token)
            || !UglyToad.PdfPig.Parser.Parts.DirectObjectFinder.TryGet<ArrayToken>(token, scanner, out var array)
            || array.Length != 4
        )
            return null;
        var corners = new double[4];
        for (var i = 0; i < 4; i++)
        {
            if (
                !UglyToad.PdfPig.Parser.Parts.DirectObjectFinder.TryGet<NumericToken>(array[i], scanner, out var number)
                || !double.IsFinite(number.Double)
            )
                return null;
            corners[i] = number.Double;
        }
        return new(
            Math.Min(corners[0], corners[2]),
            Math.Min(corners[1], corners[3]),
            Math.Max(corners[0], corners[2]),
            Math.Max(corners[1], corners[3])
        );
    }

    /// <summary>The part of a box that lies on the page; null when there is none, or when it says nothing new.</summary>
    private static PdfBox? Inside(PdfRectangle? given, string name, PdfBox around)
    {
        if (given is not { } box)
            return null;
        var inside = new PdfBox(
            name,
            Math.Max(box.Left, around.Left),
            Math.Max(box.Bottom, around.Bottom),
            Math.Min(box.Right, around.Right),
            Math.Min(box.Top, around.Top)
        );
        return inside.Width >= LeastPoints && inside.Height >= LeastPoints ? inside : null;
    }
}
