namespace ProofDesk.Adapters.Codecs;

/// <summary>What a file is read for.</summary>
/// <param name="PrintWidthMm">Width of the print: decides how finely a drawing without pixels of its own is drawn.</param>
public sealed record ArtWish(double PrintWidthMm)
{
    /// <summary>The page of a PDF that is art, from 1; other formats have no pages to choose from.</summary>
    public int Page { get; init; } = 1;
}
