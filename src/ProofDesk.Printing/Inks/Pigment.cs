using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// An absorption band with straight flanks on a logarithmic scale, as real absorption edges have:
/// 2 A / (exp((l - nm)/dL) + exp((nm - l)/dR)).
/// </summary>
internal readonly record struct Band(double A, double Nm, double FlankDownNm, double FlankUpNm)
{
    internal double At(double nm) => 2 * A / (Math.Exp((Nm - nm) / FlankDownNm) + Math.Exp((nm - Nm) / FlankUpNm));
}

/// <summary>
/// A pigment by its Colour Index generic name: relative K and S of a normally loaded dispersion, S of white at 550 nm = 1.
/// Shapes of [PHYSICS] 4: fitted to published artist-paint spectra or, where the table says so, invented.
/// </summary>
internal sealed record Pigment(string ColourIndex, Spectrum K, Spectrum S)
{
    // Films never become perfectly clear, [PHYSICS] 4.
    private const double LeastScatter = 1e-4;

    internal static Pigment White { get; } =
        new(
            "PW6",
            Spectrum.From(nm => 0.0004 + 0.004 * Math.Exp(-(nm - 380) / 40) + 0.45 * Math.Exp(-(nm - 380) / 9)),
            Scatter(1, 0.6, 0, 0, 1)
        );

    internal static Pigment Black { get; } =
        new("PBk7", Spectrum.From(nm => 4.0 * Math.Pow(nm / 550, -0.2)), Scatter(0.03, 0, 0, 0, 1));

    internal static Pigment Yellow { get; } =
        Of("PY74", 1e-4, Scatter(0.13, 0.7, 0.23, 502, 41), new(1.09, 491, 104, 6.2), new(0.13, 400, 40, 34));

    internal static Pigment WarmYellow { get; } =
        Of("PY83", 2e-4, Scatter(0.158, 0.5, 0.21, 527, 20), new(1.09, 515, 131, 6.0), new(0.25, 460, 57, 17));

    internal static Pigment Orange { get; } =
        Of("PO73", 1e-4, Scatter(0.075, -4.1, 0.11, 564, 19), new(0.71, 553, 64, 6.2), new(0.19, 461, 42, 22));

    internal static Pigment Red { get; } =
        Of("PR254", 1e-4, Scatter(0.076, -3.1, 0.225, 601, 17), new(0.71, 583, 92, 5.7), new(0.26, 498, 77, 22.5));

    internal static Pigment Magenta { get; } =
        Of("PR122", 8e-4, Scatter(0.039, -1.2, 0.084, 552, 23), new(0.93, 570, 46, 11.4), new(0.28, 536, 13, 7));

    internal static Pigment Violet { get; } =
        Of(
            "PV23",
            2e-3,
            Scatter(0.028, -1.4, 0.41, 584, 41),
            new(3.57, 559, 29, 19.5),
            new(1.93, 633, 42, 14.7),
            new(0.116, 414, 54, 20)
        );

    internal static Pigment Blue { get; } =
        Of(
            "PB15",
            2e-3,
            Scatter(0.012, 0, 0.7, 695, 61),
            new(2.9, 579, 19, 600),
            new(1.7, 715, 29, 7.2),
            new(0.27, 400, 60, 17)
        );

    internal static Pigment Green { get; } =
        Of(
            "PG7",
            2e-3,
            Scatter(0.012, 0, 0.4, 681, 45),
            new(2.9, 621, 24, 38.5),
            new(1.1, 644, 7, 600),
            new(0.645, 434, 60, 17.7)
        );

    private static Pigment Of(string colourIndex, double k0, Spectrum scatter, params ImmutableArray<Band> bands) =>
        new(colourIndex, Spectrum.From(nm => k0 + bands.Sum(b => b.At(nm))), scatter);

    // s0 (nm/550)^-beta + sp exp(-((nm - lp)/wp)^2 / 2): the peak at the red side of the band is anomalous dispersion.
    private static Spectrum Scatter(double s0, double beta, double sp, double lp, double wp) =>
        Spectrum.From(nm =>
            Math.Max(LeastScatter, s0 * Math.Pow(nm / 550, -beta) + sp * Math.Exp(-Math.Pow((nm - lp) / wp, 2) / 2))
        );
}
