namespace ProofDesk.Adapters.Documents;

/// <summary>The two sheets shops print on: ISO 216 A4, ANSI/ASME Y14.1 A (Letter).</summary>
public sealed record PaperSize(string Name, double WidthMm, double HeightMm)
{
    public static PaperSize A4 { get; } = new("A4", 210, 297);
    public static PaperSize Letter { get; } = new("Letter", 215.9, 279.4);

    /// <summary>"letter" in any case is Letter, everything else A4.</summary>
    public static PaperSize Of(string? name) =>
        string.Equals(name, Letter.Name, StringComparison.OrdinalIgnoreCase) ? Letter : A4;
}
