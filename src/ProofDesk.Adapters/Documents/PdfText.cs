namespace ProofDesk.Adapters.Documents;

/// <summary>A kind of text in a document. Sizes in points as printers name them.</summary>
/// <param name="Hex">colour, "#15181b"</param>
public sealed record PdfText(double Points, bool IsBold = false, string Hex = "#15181b")
{
    public static PdfText Body { get; } = new(9);
    public static PdfText Strong { get; } = new(9, IsBold: true);
    public static PdfText Soft { get; } = new(8, Hex: "#4b5259");
    public static PdfText Lead { get; } = new(11, IsBold: true);
    public static PdfText Head { get; } = new(17, IsBold: true);

    /// <summary>Lines are 1.35 times as far apart as the type is high.</summary>
    public double LineMm => Points * 1.35 * 25.4 / 72;
}
