using System.Collections.Immutable;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Transfer of dye from paper in a heat press. The four colours come from one print head, so they are in register; each
/// dot is larger than its pixel and its gas spreads further. On a sewn garment the creases lie off the paper and stay pale.
/// </summary>
public class SublimationPress(bool sewn) : MethodPress
{
    /// <summary>A finished garment in the press.</summary>
    public static SublimationPress Sewn { get; } = new(sewn: true);

    /// <summary>A drop of 45 um on a pixel of 35 um, and the gas (a proposal; a shop's own ramp replaces it).</summary>
    public const double SpreadUm = 15;

    /// <summary>Ink of one colour at full tone, g/m2 (common practice 6 to 10).</summary>
    public const double FullToneGramsPerM2 = 8;

    private static readonly SewnCreases Creases = new(new(0.8, 4, 0.75), new(2, 9, 0.7), new(0.6, 3.2, 0.8));

    public override PressSettings Settings(PressSettings shop) =>
        shop with
        {
            GrowthUm = SpreadUm,
            GrowthOnBaseUm = SpreadUm,
            GrowthNoiseUm = 10,
            SetUpSigmaMm = 0,
            PalletSigmaMm = 0,
            JitterSigmaMm = 0,
        };

    public override int? RegisterOf(Separation separation, int plate) => null;

    public override double Grams(double areaCm2, InkPass pass) => areaCm2 / 10_000 * FullToneGramsPerM2;

    public override Film Reaching(Film film, Films films, GroundPlan plan, Deposit deposit, ulong seed) =>
        sewn && films.Separation.Lay is { } lay
            ? BareFilm.Of(film, films, Creases.On(plan.Ground.Garment, lay, films.Separation.HeightMm, seed))
            : film;
}
