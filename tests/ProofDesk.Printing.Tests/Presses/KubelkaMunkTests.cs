using CsCheck;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Presses;

public sealed class KubelkaMunkTests
{
    private static readonly Layer A = KubelkaMunk.Layer(0.004, 0.06, 30);
    private static readonly Layer B = KubelkaMunk.Layer(0.05, 0.01, 10);

    // Computed independently by a Runge-Kutta integration of the differential equation dR/dx = S - 2(K+S)R + S R^2.
    [Fact]
    public void A_layer_reflects_and_transmits_what_the_differential_equation_says()
    {
        Assert.Equal(0.58736156, A.R0, 1e-7);
        Assert.Equal(0.30324183, A.T, 1e-7);
        Assert.Equal(0.59112828, A.Over(0.04), 1e-7);
        Assert.Equal(0.74345424, A.Over(0.85), 1e-7);
        Assert.Equal(0.81020946, A.Over(1), 1e-7);
    }

    // The same equation integrated here: classic fourth-order Runge-Kutta, 3000 steps from the backing to the surface.
    [Fact]
    public void The_closed_form_is_the_solution_of_the_differential_equation()
    {
        const double k = 0.004,
            s = 0.06,
            h = 0.01;
        double Slope(double r) => s - 2 * (k + s) * r + s * r * r;
        var r = 0.85;
        for (var i = 0; i < 3000; i++)
        {
            var a = Slope(r);
            var b = Slope(r + h / 2 * a);
            var c = Slope(r + h / 2 * b);
            var d = Slope(r + h * c);
            r += h / 6 * (a + 2 * b + 2 * c + d);
        }

        Assert.Equal(r, A.Over(0.85), 1e-8);
    }

    // Limits, exact: R0 = SX/(1+SX), T = 1/(1+SX) without absorption; exp(-KX) without scattering.
    [Fact]
    public void Pure_scatter_and_pure_absorption_have_their_own_branches()
    {
        var scatter = KubelkaMunk.Layer(0, 0.2, 10);
        var dye = KubelkaMunk.Layer(0.05, 0, 10);

        Assert.Equal(2.0 / 3, scatter.R0, 1e-9);
        Assert.Equal(1.0 / 3, scatter.T, 1e-9);
        Assert.Equal(0.7083333, scatter.Over(0.3), 1e-7);
        Assert.Equal(0, dye.R0);
        Assert.Equal(0.60653066, dye.T, 1e-8);
        Assert.Equal(Math.Exp(-1) * 0.5, dye.Over(0.5), 1e-12);
    }

    [Fact]
    public void The_branches_meet_the_hyperbolic_form_without_a_step()
    {
        Assert.Equal(KubelkaMunk.Layer(0.9e-9, 1, 2).R0, KubelkaMunk.Layer(1.1e-9, 1, 2).R0, 1e-8);
        Assert.Equal(KubelkaMunk.Layer(0.5, 0.9e-12, 1).T, KubelkaMunk.Layer(0.5, 1.1e-12, 1).T, 1e-9);
    }

    // [KUBELKA-MUNK-1931]; 0.267949192431123 = 2 - sqrt(3) is also a published test value of an independent library.
    [Theory]
    [InlineData(0.1, 0.64174243)]
    [InlineData(1, 0.267949192431123)]
    [InlineData(10, 0.04554885)]
    public void An_endless_layer_has_the_reflectance_of_its_K_over_S(double ks, double rinf)
    {
        Assert.Equal(rinf, KubelkaMunk.Rinf(ks), 1e-8);
    }

    [Theory]
    [InlineData(0.05, 9.025)]
    [InlineData(0.1, 4.05)]
    [InlineData(0.2, 1.6)]
    [InlineData(0.5, 0.25)]
    [InlineData(0.8, 0.025)]
    [InlineData(0.9, 0.0055555556)]
    public void Reflectance_gives_K_over_S_and_back(double r, double ks)
    {
        Assert.Equal(ks, KubelkaMunk.Ks(r), 1e-9);
        Assert.Equal(r, KubelkaMunk.Rinf(ks), 1e-9);
    }

    // [KUBELKA-1954], numbers computed independently.
    [Fact]
    public void The_order_of_two_layers_matters_and_a_stack_looks_different_from_below()
    {
        var bOnA = B.On(A);
        var aOnB = A.On(B);

        Assert.Equal(0.243724, B.Over(A.Over(0.03)), 1e-6);
        Assert.Equal(0.593821, A.Over(B.Over(0.03)), 1e-6);
        Assert.Equal(0.242810, bOnA.R0, 1e-6);
        Assert.Equal(0.172929, bOnA.T, 1e-6);
        Assert.Equal(0.592917, aOnB.R0, 1e-6);
        Assert.Equal(bOnA.T, aOnB.T, 1e-12);
    }

    [Fact]
    public void A_layer_in_two_parts_is_the_same_layer()
    {
        var parts = KubelkaMunk.Layer(0.004, 0.06, 12).On(KubelkaMunk.Layer(0.004, 0.06, 18));

        Assert.Equal(A.R0, parts.R0, 1e-12);
        Assert.Equal(A.T, parts.T, 1e-12);
    }

    // [ISO-9416] (formula from memory): s = 1/W Rinf/(1 - Rinf^2) ln(Rinf (1 - R0 Rinf)/(Rinf - R0)), k = s (1 - Rinf)^2/(2 Rinf).
    [Fact]
    public void The_paper_standard_gives_the_same_scattering()
    {
        const double w = 0.08,
            r0 = 0.70,
            rinf = 0.80;
        var s = rinf / (1 - rinf * rinf) * Math.Log(rinf * (1 - r0 * rinf) / (rinf - r0)) / w;
        var k = s * KubelkaMunk.Ks(rinf);

        Assert.Equal(34.9572, s, 1e-4);
        Assert.Equal(0.87393, k, 1e-5);
        Assert.Equal(r0, KubelkaMunk.Layer(k, s, w).R0, 1e-9);
    }

    // Contrast ratio R0/R(0.80) of [ISO-6504-3] and [ASTM-D2805]; SX computed independently.
    [Theory]
    [InlineData(0.80, 3.2101, 4.5761, 6.5007)]
    [InlineData(0.85, 3.4938, 5.1721, 7.6670)]
    [InlineData(0.90, 3.7503, 5.8031, 9.1427)]
    [InlineData(0.92, 3.8355, 6.0420, 9.8108)]
    [InlineData(0.95, 3.9340, 6.3454, 10.8089)]
    public void Hiding_needs_the_computed_scattering(double rinf, double at90, double at95, double at98)
    {
        Assert.Equal(at90, HidingSx(rinf, 0.90), 1e-3);
        Assert.Equal(at95, HidingSx(rinf, 0.95), 1e-3);
        Assert.Equal(at98, HidingSx(rinf, 0.98), 1e-3);
    }

    [Fact]
    public void Energy_is_never_made_and_a_brighter_backing_never_darkens()
    {
        Gen.Select(Positive(1e-6, 10), Positive(1e-6, 10), Positive(0.01, 500), Gen.Double[0, 0.98])
            .Sample(
                (k, s, x, g) =>
                {
                    var layer = KubelkaMunk.Layer(k, s, x);
                    return layer.R0 >= 0
                        && layer.T >= 0
                        && layer.R0 + layer.T <= 1 + 1e-12
                        && layer.Over(g + 0.01) >= layer.Over(g);
                }
            );
    }

    // K17: numbers of an independent single-constant implementation, the npm package spectral.js 3.0.0 (MIT), run with node; its mix
    // weighs colours by their luminance, here 0.8 and 0.2.
    [Fact]
    public void An_independent_implementation_has_the_same_K_over_S_and_the_same_mixture()
    {
        (double R, double Ks)[] theirs =
        [
            (.05, 9.024999999999999),
            (.1, 4.05),
            (.2, 1.6000000000000003),
            (.5, .25),
            (.8, .024999999999999988),
            (.9, .005555555555555552),
        ];

        foreach (var (r, ks) in theirs)
            Assert.Equal(ks, KubelkaMunk.Ks(r), 1e-9);
        var mixed = 0.8 * KubelkaMunk.Ks(0.8) + 0.2 * KubelkaMunk.Ks(0.2);
        Assert.Equal(0.4480358751608896, KubelkaMunk.Rinf(mixed), 1e-9);
    }

    [Fact]
    public void A_thick_layer_hides_any_backing_and_no_thickness_overflows()
    {
        Gen.Select(Positive(1e-3, 10), Positive(1e-2, 10), Gen.Double[0, 1])
            .Sample(
                (k, s, g) =>
                {
                    var layer = KubelkaMunk.Layer(k, s, 1e7);
                    return Math.Abs(layer.Over(g) - KubelkaMunk.Rinf(k / s)) < 1e-9 && double.IsFinite(layer.T);
                }
            );
    }

    [Fact]
    public void Order_matters_unless_K_over_S_is_equal()
    {
        Gen.Select(Positive(0.01, 1), Positive(0.01, 1), Positive(0.1, 5), Gen.Double[0, 1])
            .Sample(
                (k, s, factor, g) =>
                {
                    var one = KubelkaMunk.Layer(k, s, 10);
                    var like = KubelkaMunk.Layer(factor * k, factor * s, 10);
                    return Math.Abs(one.Over(like.Over(g)) - like.Over(one.Over(g))) < 1e-10;
                }
            );
    }

    private static Gen<double> Positive(double low, double high) =>
        Gen.Double[Math.Log(low), Math.Log(high)].Select(Math.Exp);

    private static double HidingSx(double rinf, double contrast)
    {
        double low = 0,
            high = 100;
        for (var i = 0; i < 80; i++)
        {
            var sx = (low + high) / 2;
            var layer = KubelkaMunk.Layer(KubelkaMunk.Ks(rinf), 1, sx);
            if (layer.R0 / layer.Over(0.8) < contrast)
                low = sx;
            else
                high = sx;
        }
        return low;
    }
}
