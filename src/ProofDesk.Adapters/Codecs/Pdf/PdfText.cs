using System.Collections.Immutable;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.DocumentLayoutAnalysis.PageSegmenter;
using UglyToad.PdfPig.DocumentLayoutAnalysis.WordExtractor;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>The lines of text on a page, in reading order, for somebody to read letter by letter.</summary>
internal static class PdfText
{
    /// <summary>A shirt has a few words; a page of prose is not worth the time to lay it out.</summary>
    private const int MostLetters = 5_000;

    /// <param name="seen">Whether a point of the page lies in the part that is printed.</param>
    public static ImmutableArray<string> Lines(Page page, Func<PdfPoint, bool> seen, int most)
    {
        var letters = page
            .Letters.Where(l => l.RenderingMode is not (TextRenderingMode.Neither or TextRenderingMode.NeitherClip))
            .Where(l => seen(l.BoundingBox.Centroid))
            .Take(MostLetters)
            .ToList();
        if (letters.Count == 0)
            return [];
        var words = NearestNeighbourWordExtractor.Instance.GetWords(letters).ToList();
        // Blocks from top to bottom, as they are read on a shirt; what stands side by side from left to right.
        return
        [
            .. DocstrumBoundingBoxes
                .Instance.GetBlocks(words)
                .OrderByDescending(block => block.BoundingBox.Top)
                .ThenBy(block => block.BoundingBox.Left)
                .SelectMany(block => block.TextLines)
                .Select(line => FoundText.Plain(line.Text))
                .Where(line => line.Length > 0)
                .Take(most),
        ];
    }
}
