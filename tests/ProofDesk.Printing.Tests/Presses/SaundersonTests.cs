using CsCheck;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Presses;

public sealed class SaundersonTests
{
    // [SAUNDERSON-1942] with k1 = 0.04, k2 = 0.6, computed independently; with specular light included 0.04 more.
    [Theory]
    [InlineData(0.05, 0.0197938)]
    [InlineData(0.5, 0.2742857)]
    [InlineData(0.9, 0.7513043)]
    public void The_surface_takes_its_share_with_and_without_gloss(double inside, double measured)
    {
        var without = new OpticalConvention(0.04, 0.6, 0);
        var with = new OpticalConvention(0.04, 0.6, 0.04);

        Assert.Equal(measured, Saunderson.Measured(inside, without), 1e-7);
        Assert.Equal(measured + 0.04, Saunderson.Measured(inside, with), 1e-7);
        Assert.Equal(inside, Saunderson.Internal(Saunderson.Measured(inside, without), without), 1e-12);
        Assert.Equal(inside, Saunderson.Internal(Saunderson.Measured(inside, with), with), 1e-12);
    }

    [Fact]
    public void There_and_back_is_exact_for_any_surface()
    {
        Gen.Select(Gen.Double[0, 1], Gen.Double[0, 0.1], Gen.Double[0, 0.7], Gen.Double[0, 0.1])
            .Sample(
                (r, k1, k2, ki) =>
                {
                    var c = new OpticalConvention(k1, k2, ki);
                    return Math.Abs(Saunderson.Internal(Saunderson.Measured(r, c), c) - r) < 1e-12;
                }
            );
    }

    [Fact]
    public void No_surface_changes_nothing()
    {
        Assert.Equal(0.37, Saunderson.Measured(0.37, OpticalConvention.None));
        Assert.Equal(0.37, Saunderson.Internal(0.37, OpticalConvention.None));
    }

    // Fresnel integrals, n = 1.5 also in [JUDD-1942]: 0.0918 and 0.596.
    [Theory]
    [InlineData(1.45, 0.0337, 0.0844, 0.5645)]
    [InlineData(1.50, 0.0400, 0.0918, 0.5963)]
    [InlineData(1.55, 0.0465, 0.0991, 0.6250)]
    public void The_coefficients_follow_from_the_refractive_index(double n, double k1, double outside, double inside)
    {
        Assert.Equal(k1, Fresnel.Normal(n), 5e-5);
        Assert.Equal(outside, Fresnel.DiffuseFromAir(n), 1e-4);
        Assert.Equal(inside, Fresnel.DiffuseFromInside(n), 5e-4);
    }
}
