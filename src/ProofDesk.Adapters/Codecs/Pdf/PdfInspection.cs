using System.Collections.Immutable;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Exceptions;
using UglyToad.PdfPig.Outline.Destinations;
using UglyToad.PdfPig.Parser.Parts;
using UglyToad.PdfPig.Tokenization.Scanner;
using UglyToad.PdfPig.Tokens;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>
/// Reads what a page says of itself: size, boxes, colours, fonts, text. Nothing is drawn and nothing is run. A page whose
/// text cannot be read may still be drawn.
/// </summary>
internal static class PdfInspection
{
    /// <summary>ISO 32000-1, annex C: the largest page, in its own units.</summary>
    private const double MaxUnits = 14_400;

    /// <summary>Deeper nesting than any program writes; the scanner recurses.</summary>
    private const int MaxNesting = 100;

    /// <exception cref="UnreadableArt">Damaged, locked, too many pages, no such page, a page of no size.</exception>
    public static PdfPage Of(byte[] file, int number, DecodeLimits limits)
    {
        try
        {
            using var document = Open(file);
            return Page(document, number, limits);
        }
        catch (PdfDocumentEncryptedException)
        {
            throw new UnreadableArt(
                "pdf-locked",
                "the pdf is locked with a password",
                "save it without a password and send that"
            );
        }
        catch (OutOfMemoryException)
        {
            throw TooMuch();
        }
        catch (Exception e) when (e is not UnreadableArt)
        {
            throw new UnreadableArt(
                "damaged",
                "the pdf file is cut short or damaged",
                "export it again from the program that made it and send the whole file"
            )
            {
                ForTheLog = e.ToString(),
            };
        }
    }

    internal static UnreadableArt TooMuch() =>
        new(
            "pdf-unpacks-too-large",
            "the pdf unpacks to more than the picture reader may hold",
            "flatten it, or save the art as png with the program that made it and send that"
        );

    private static PdfDocument Open(byte[] file)
    {
        var document = PdfDocument.Open(
            file,
            new ParsingOptions
            {
                UseLenientParsing = true,
                SkipMissingFonts = true,
                MaxStackDepth = MaxNesting,
            }
        );
        return document;
    }

    private static PdfPage Page(PdfDocument document, int number, DecodeLimits limits)
    {
        var pages = document.NumberOfPages;
        if (pages > limits.MaxPages)
            throw new UnreadableArt(
                "too-many-pages",
                $"the pdf has {pages} pages; {limits.MaxPages} are the limit",
                "send the page that is to be printed as a file of its own",
                pages,
                limits.MaxPages
            );
        if (pages < 1)
            throw new UnreadableArt(
                "pdf-without-pages",
                "no page can be found in the pdf",
                "export it again from the program that made it and send the whole file"
            );
        if (number < 1 || number > pages)
            throw new UnreadableArt(
                "pdf-no-such-page",
                $"page {number} was asked for; the pdf has {pages} {(pages == 1 ? "page" : "pages")}",
                $"ask for a page from 1 to {pages}",
                number,
                pages
            );
        var scanner = document.Structure.TokenScanner;
        document.AddPageFactory(new DictionaryPages());
        var (dictionary, members) = document.GetPage<PageTokens>(number);
        var media =
            members.MediaBox?.Bounds
            ?? PdfBox.Read(dictionary, "MediaBox", scanner)
            ?? new PdfRectangle(0, 0, 612, 792);
        var crop = PdfBox.Read(dictionary, "CropBox", scanner) ?? Inherited(dictionary, "CropBox", scanner);
        var box = PdfBox.Of(key => key == "CropBox" ? crop : PdfBox.Read(dictionary, key, scanner), media);
        var unit =
            dictionary.TryGet(NameToken.Create("UserUnit"), scanner, out NumericToken? user) && user.Double > 0
                ? user.Double
                : 1;
        var whole = new PdfBox("media", media.Left, media.Bottom, media.Right, media.Top);
        var rotation = ((members.Rotation % 360) + 360) % 360;
        var page = new PdfPage(number, pages, box, whole, rotation, unit)
        {
            Uses = PdfUses.Of(dictionary, Last(members.ParentResources), scanner),
            Extras = Extras(document, dictionary, scanner),
        };
        CheckSize(page);
        return WithContent(document, page, limits);
    }

    private static void CheckSize(PdfPage page)
    {
        var longest = Math.Max(page.Box.Width, page.Box.Height);
        if (longest > MaxUnits || page.UserUnit > 1000)
            throw new UnreadableArt(
                "pdf-page-too-large",
                $"the page is {Millimetres(page.WidthPoints):0} x {Millimetres(page.HeightPoints):0} mm; a side of a pdf page has at most {Millimetres(MaxUnits):0} mm",
                "set the art on a page of its own size and send that",
                Math.Round(Millimetres(longest * page.UserUnit)),
                Math.Round(Millimetres(MaxUnits))
            );
        if (!(page.Box.Width >= 1) || !(page.Box.Height >= 1))
            throw new UnreadableArt(
                "pdf-page-without-size",
                "the page of the pdf has no size",
                "set the art on a page of its own size and send that"
            );
    }

    internal static double Millimetres(double points) => points / 72 * 25.4;

    /// <summary>Text and placed pictures, for which the page's content has to be read.</summary>
    private static PdfPage WithContent(PdfDocument document, PdfPage page, DecodeLimits limits)
    {
        try
        {
            var content = document.GetPage(page.Number);
            return page with
            {
                Words = PdfText.Lines(content, Seen(content, page), limits.MaxWords),
                Pictures =
                [
                    .. content
                        .GetImages()
                        .Where(i => !i.IsImageMask)
                        .Select(i => new PdfPicture(
                            i.WidthInSamples,
                            i.HeightInSamples,
                            i.BoundingBox.Width,
                            i.BoundingBox.Height
                        ))
                        .Take(1000),
                ],
            };
        }
        catch (OutOfMemoryException)
        {
            throw TooMuch();
        }
        catch (Exception e) when (e is not UnreadableArt)
        {
            return page with { TextRead = false };
        }
    }

    /// <summary>
    /// The reader of text turns the page and starts its crop box at 0, 0: a point of it in the box of the art. Turned pages
    /// are taken whole.
    /// </summary>
    private static Func<PdfPoint, bool> Seen(Page content, PdfPage page)
    {
        if (page.Rotation != 0)
            return _ => true;
        var crop = content.CropBox.Bounds;
        var (left, bottom) = (page.Box.Left - crop.Left, page.Box.Bottom - crop.Bottom);
        return point =>
            point.X >= left
            && point.X <= left + page.Box.Width
            && point.Y >= bottom
            && point.Y <= bottom + page.Box.Height;
    }

    private static PdfExtras Extras(PdfDocument document, DictionaryToken page, IPdfTokenScanner scanner)
    {
        var catalogue = document.Structure.Catalog.CatalogDictionary;
        DictionaryToken? In(DictionaryToken? from, string key) =>
            from is not null && from.TryGet(NameToken.Create(key), scanner, out DictionaryToken? found) ? found : null;
        bool Has(DictionaryToken? from, string key) => from?.ContainsKey(NameToken.Create(key)) == true;
        var names = In(catalogue, "Names");
        var off = In(In(catalogue, "OCProperties"), "D");
        var notes = page.TryGet(NameToken.Create("Annots"), scanner, out ArrayToken? annotations)
            ? annotations.Length
            : 0;
        return new(
            Has(names, "JavaScript") || Has(catalogue, "OpenAction") || Has(catalogue, "AA") || Has(page, "AA"),
            Has(names, "EmbeddedFiles") || Has(catalogue, "AF"),
            notes,
            off is not null && off.TryGet(NameToken.Create("OFF"), scanner, out ArrayToken? hidden) ? hidden.Length : 0
        );
    }

    private static PdfRectangle? Inherited(DictionaryToken page, string key, IPdfTokenScanner scanner)
    {
        var at = page;
        for (var up = 0; up < MaxNesting; up++)
        {
            if (
                !at.TryGet(NameToken.Create("Parent"), out var token)
                || !DirectObjectFinder.TryGet<DictionaryToken>(token, scanner, out var parent)
            )
                return null;
            if (PdfBox.Read(parent, key, scanner) is { } box)
                return box;
            at = parent;
        }
        return null;
    }

    private static DictionaryToken? Last(Queue<DictionaryToken>? resources) => resources?.LastOrDefault();

    private sealed record PageTokens(DictionaryToken Dictionary, PageTreeMembers Members);

    /// <summary>Hands out a page's dictionary without reading its content.</summary>
    private sealed class DictionaryPages : IPageFactory<PageTokens>
    {
        public PageTokens Create(
            int number,
            DictionaryToken dictionary,
            PageTreeMembers pageTreeMembers,
            NamedDestinations namedDestinations
        ) => new(dictionary, pageTreeMembers);
    }
}
