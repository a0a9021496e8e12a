using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// The colour of inks on a cloth at one place. From below: the unprinted cloth, its top zone with the ink that sank in
/// (K and S of ink and fibre add, conserving the pigment; the penetration layer of [YANG-KRUSE-2004]), then each film
/// in print order as a Kubelka-Munk layer, then one surface. Inks, base and binder have nearly the same refractive
/// index, so there is no surface between films. A fibre that stands through the films is seen
/// stained by each pass.
/// </summary>
public static class InkOnCloth
{
    /// <summary>Depth of the zone that sunk-in ink shares with the fibres, um; 30 to 80 in practice (a proposal).</summary>
    public const double ZoneUm = 50;

    /// <summary>
    /// Why these inks cannot be stacked, or null. K and S found with a surface in the calculation are about 2.5 times
    /// those found without, so a sum of the two means nothing.
    /// </summary>
    public static string? Refusal(IReadOnlyList<PrintedLayer> layersBottomUp)
    {
        for (var i = 1; i < layersBottomUp.Count; i++)
        {
            var (first, other) = (layersBottomUp[0].Ink, layersBottomUp[i].Ink);
            if (first.Convention != other.Convention)
                return $"ink \"{other.Name}\" cannot be printed over \"{first.Name}\" here: their absorption and scattering were found with different surface corrections ({Text(other.Convention)} and {Text(first.Convention)}); choose inks of one kind, or measure both with the same correction";
        }
        return null;
    }

    /// <summary>Total radiance factor of the printed cloth at one point: reflectance, plus brightener that the ink lets through.</summary>
    /// <exception cref="ArgumentException">The inks cannot be stacked; see <see cref="Refusal"/>.</exception>
    public static Spectrum Reflectance(Ground ground, IReadOnlyList<PrintedLayer> layersBottomUp, ClothPoint point)
    {
        if (layersBottomUp.Count == 0)
            return Brightener.Radiance(ground.Colour);
        return Reflectance(ground, layersBottomUp, point, Films(layersBottomUp, point));
    }

    /// <summary>The same inks at one point on two grounds: the films are computed once.</summary>
    /// <exception cref="ArgumentException">The inks cannot be stacked; see <see cref="Refusal"/>.</exception>
    public static (Spectrum First, Spectrum Second) Reflectance(
        Ground first,
        Ground second,
        IReadOnlyList<PrintedLayer> layersBottomUp,
        ClothPoint point
    )
    {
        if (layersBottomUp.Count == 0)
            return (Brightener.Radiance(first.Colour), Brightener.Radiance(second.Colour));
        var films = Films(layersBottomUp, point);
        return (Reflectance(first, layersBottomUp, point, films), Reflectance(second, layersBottomUp, point, films));
    }

    private static Spectrum Reflectance(
        Ground ground,
        IReadOnlyList<PrintedLayer> layersBottomUp,
        ClothPoint point,
        Layer[] films
    )
    {
        if (Refusal(layersBottomUp) is { } refusal)
            throw new ArgumentException(refusal);

        var convention = layersBottomUp[0].Ink.Convention;
        var cloth = ground.Colour.Reflectance;
        var wetting = layersBottomUp[0].Ink.Wetting;
        var clothScatter = ClothScatterPerUm(ground, convention);
        var uvGate = ground.Colour.BrightenerPeak > 0 ? Transmittance(layersBottomUp, point, band: 0) : 0;
        var values = new double[Spectrum.Bands];
        for (var band = 0; band < Spectrum.Bands; band++)
        {
            // Convention: the cloth's measured reflectance is carried inside the surface before stacking, so that a
            // perfectly clear film leaves it unchanged. An ink that wets the fibres takes part of that back.
            var dry = Saunderson.Internal(cloth[band], convention);
            var inside = dry + wetting * (cloth[band] - dry);
            inside = point.BareFibre
                ? Fibre(layersBottomUp, point, band, clothScatter, inside)
                : Covered(layersBottomUp, point, band, clothScatter, inside, films);
            values[band] = Saunderson.Measured(inside, convention);

            // Ink takes the ultraviolet on the way in (380 nm, our shortest band, stands for about 370) and the emission
            // on the way out: F T(UV) T(nm).
            if (uvGate > 0)
                values[band] +=
                    Brightener.Emission(ground.Colour.BrightenerPeak, Spectrum.Nanometres(band))
                    * uvGate
                    * Transmittance(layersBottomUp, point, band);
        }
        return Spectrum.Of(values);
    }

    /// <summary>Every film in every band, layer by layer; none on a standing fibre.</summary>
    private static Layer[] Films(IReadOnlyList<PrintedLayer> layers, ClothPoint point)
    {
        if (point.BareFibre)
            return [];
        var films = new Layer[layers.Count * Spectrum.Bands];
        for (var i = 0; i < layers.Count; i++)
        for (var band = 0; band < Spectrum.Bands; band++)
            films[i * Spectrum.Bands + band] = Film(layers[i], point, band);
        return films;
    }

    // The cloth's top zone with all the ink that sank in, then the films.
    private static double Covered(
        IReadOnlyList<PrintedLayer> layers,
        ClothPoint point,
        int band,
        double clothScatter,
        double cloth,
        Layer[] films
    )
    {
        double k = 0,
            s = 0;
        foreach (var layer in layers)
        {
            var um = Um(layer, point) * layer.InClothShare;
            k += layer.Ink.AbsorptionPerUm[band] * um;
            s += layer.Ink.ScatteringPerUm[band] * um;
        }
        var inside = Zone(k, s, clothScatter, cloth, cloth);
        for (var i = 0; i < layers.Count; i++)
            inside = films[i * Spectrum.Bands + band].Over(inside);
        return inside;
    }

    // A standing fibre is stained by one pass after the other, the last outermost.
    private static double Fibre(
        IReadOnlyList<PrintedLayer> layers,
        ClothPoint point,
        int band,
        double clothScatter,
        double cloth
    )
    {
        var inside = cloth;
        foreach (var layer in layers)
        {
            var um = Um(layer, point) * layer.StainShare;
            var (k, s) = (layer.Ink.AbsorptionPerUm[band] * um, layer.Ink.ScatteringPerUm[band] * um);
            inside = Zone(k, s, clothScatter, cloth, inside);
        }
        return inside;
    }

    /// <summary>Fibres of a cloth with ink between them (K X and S X of the ink), over what lies below.</summary>
    private static double Zone(double inkK, double inkS, double clothScatter, double cloth, double below)
    {
        if (inkK == 0 && inkS == 0)
            return below;
        // A cloth blacker than its own surface reflection has no finite K/S; 1e-4 stands in for nothing.
        var clothK = clothScatter * KubelkaMunk.Ks(Math.Clamp(cloth, 1e-4, 1));
        return KubelkaMunk.Layer(clothK + inkK / ZoneUm, clothScatter + inkS / ZoneUm, ZoneUm).Over(below);
    }

    /// <summary>The fibres' own S, per um; it follows the inks' convention as the inks' S does.</summary>
    private static double ClothScatterPerUm(Ground ground, OpticalConvention convention) =>
        ground.Garment.Knit.ScatteringPerUm
        * (convention == OpticalConvention.None ? 1 : InkMix.FilmPerUm / InkMix.ClothPerUm);

    private static Layer Film(PrintedLayer layer, ClothPoint point, int band) =>
        KubelkaMunk.Layer(
            layer.Ink.AbsorptionPerUm[band],
            layer.Ink.ScatteringPerUm[band],
            Um(layer, point) * (1 - layer.InClothShare)
        );

    // All the ink above the brightened fibres, films and sunk-in part alike; on a standing fibre the stain only.
    private static double Transmittance(IReadOnlyList<PrintedLayer> layers, ClothPoint point, int band)
    {
        var stack = Layer.Nothing;
        foreach (var layer in layers)
        {
            var um = Um(layer, point) * (point.BareFibre ? layer.StainShare : 1);
            stack = KubelkaMunk.Layer(layer.Ink.AbsorptionPerUm[band], layer.Ink.ScatteringPerUm[band], um).On(stack);
        }
        return stack.T;
    }

    private static double Um(PrintedLayer layer, ClothPoint point) =>
        layer.FilmUm * layer.Spread.Multipliers[point.ThicknessClass];

    private static string Text(OpticalConvention c) =>
        c == OpticalConvention.None ? "none" : FormattableString.Invariant($"k1 {c.K1}, k2 {c.K2}, ki {c.Ki}");
}
