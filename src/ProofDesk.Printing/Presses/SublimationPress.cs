using System.Collections.Immutable;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Transfer of dye from paper in a heat press. The four colours come from one print head, so they are in register. Gas
/// takes the dye of a dot a little sideways but makes no more of it, so dots soften and do not grow. On a sewn garment the
/// creases lie off the paper and stay pale.
/// </summary>
public class SublimationPress(bool sewn) : MethodPress
{
    /// <summary>A finished garment in the press.</summary>
    public static SublimationPress Sewn { get; } = new(sewn: true);

    /// <summary>How far the gas goes sideways in the cloth, um (a proposal).</summary>
    public const double GasUm = 60;

    /// <summary>Ink of one colour at full tone, g/m2 (common practice 6 to 10).</summary>
    public const double FullToneGramsPerM2 = 8;

    private static readonly SewnCreases Creases = new(new(0.8, 4, 0.75), new(2, 9, 0.7), new(0.6, 3.2, 0.8));

    public override PressSettings Settings(PressSettings shop) =>
        shop with
        {
            GrowthUm = 0,
            GrowthOnBaseUm = 0,
            GrowthNoiseUm = 0,
            SetUpSigmaMm = 0,
            PalletSigmaMm = 0,
            JitterSigmaMm = 0,
        };

    /// <summary>Light and gas both mix what lies side by side; independent ways add in squares.</summary>
    public override double SidewaysUm(Ground ground) => Math.Sqrt(Math.Pow(base.SidewaysUm(ground), 2) + GasUm * GasUm);

    public override int? RegisterOf(Separation separation, int plate) => null;

    public override double Grams(double areaCm2, InkPass pass) => areaCm2 / 10_000 * FullToneGramsPerM2;

    public override Film Reaching(Film film, Films films, GroundPlan plan, Deposit deposit, ulong seed) =>
        sewn && films.Separation.Lay is { } lay
            ? BareFilm.Of(film, films, Creases.On(plan.Ground.Garment, lay, films.Separation.HeightMm, seed))
            : film;
}
