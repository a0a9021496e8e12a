namespace ProofDesk.Printing.Inks;

/// <summary>
/// A plain-weave screen mesh ([PHYSICS] 1.5).
/// </summary>
/// <param name="ThreadsPerCm">M, threads per centimetre.</param>
/// <param name="ThreadUm">d, thread diameter.</param>
/// <param name="FabricUm">t, fabric thickness; 1.5 d when the data sheet is missing.</param>
public sealed record Mesh(double ThreadsPerCm, double ThreadUm, double FabricUm)
{
    public Mesh(double threadsPerCm, double threadUm)
        : this(threadsPerCm, threadUm, 1.5 * threadUm) { }

    /// <summary>No mesh meters the ink: it is jetted, cut or transferred.</summary>
    public static Mesh None { get; } = new(0, 0, 0);

    public bool IsNone => ThreadsPerCm == 0;

    /// <summary>w = q - d, mesh opening, um, with pitch q = 10000 / M.</summary>
    public double OpeningUm => IsNone ? 0 : 10000 / ThreadsPerCm - ThreadUm;

    /// <summary>(w/q)^2, 0..1.</summary>
    public double OpenArea => Math.Pow(OpeningUm * ThreadsPerCm / 10000, 2);

    /// <summary>Theoretical ink volume, cm3/m2 (= um): open area x fabric thickness.</summary>
    public double TheoreticalInkVolume => OpenArea * FabricUm;

    /// <summary>A dot or line of this width always prints: 2 d + w, um (common practice).</summary>
    public double SafeFeatureUm => 2 * ThreadUm + OpeningUm;

    public double ThreadsPerInch => ThreadsPerCm * 2.54;

    /// <summary>"61-64": threads per cm and thread diameter, as shops write it.</summary>
    public string Label => IsNone ? "none" : FormattableString.Invariant($"{ThreadsPerCm:0}-{ThreadUm:0}");
}
