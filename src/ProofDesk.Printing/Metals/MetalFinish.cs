using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Metals;

/// <summary>
/// The metal of a metallic ink or a foil: which, and the transparent colour over it.
/// </summary>
/// <param name="Tint">Transmittance of lacquer or binder, one way; all 1 for a clear one.</param>
/// <param name="FlakeUm">Size of the flakes; 0 for foil, which is one piece.</param>
public sealed record MetalFinish(Metal Metal, Spectrum Tint, double FlakeUm)
{
    public static Spectrum Clear { get; } = Spectrum.Flat(1);

    /// <summary>Makes aluminium as golden as gold: the ratio of the two metals' reflectances, fitted by hand (class C).</summary>
    public static Spectrum Golden { get; } = Edge(0.42, 0.98, 524, 19);

    public static Spectrum Bronze { get; } = Edge(0.24, 0.72, 560, 26);

    public static Spectrum Coppery { get; } = Edge(0.4, 0.95, 586, 17);

    public static Spectrum Rose { get; } = Edge(0.6, 0.97, 570, 22);

    public static Spectrum Red { get; } = Edge(0.03, 0.88, 602, 12);

    public static Spectrum Blue { get; } = Band(0.04, 0.75, 455, 42);

    public static Spectrum Green { get; } = Band(0.05, 0.72, 525, 34);

    public static Spectrum Black { get; } = Edge(0.06, 0.06, 550, 20);

    // Of both ways, so that the number named is what comes back.
    private static Spectrum Edge(double low, double high, double nm, double width) =>
        Spectrum.From(at => Math.Sqrt(low + (high - low) / (1 + Math.Exp((nm - at) / width))));

    private static Spectrum Band(double low, double high, double nm, double width) =>
        Spectrum.From(at => Math.Sqrt(low + (high - low) * Math.Exp(-Math.Pow((at - nm) / width, 2) / 2)));
}
