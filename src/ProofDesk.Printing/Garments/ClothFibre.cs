using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Garments;

/// <summary>
/// Fibres of one kind and colour in a cloth. What reaches only one fibre (discharge: cellulose; sublimation:
/// polyester) changes its reflectance, and the cloth is blended again by <see cref="StearnsNoechel"/>.
/// </summary>
/// <param name="Share">Share of the weight, 0..1.</param>
/// <param name="Dyed">Carries the colour's dyes; the pale fibre of a heather does not.</param>
public sealed record ClothFibre(FibreKind Kind, double Share, Spectrum Reflectance, bool Dyed)
{
    public bool IsCellulose => Kind is FibreKind.Cotton or FibreKind.Viscose;

    /// <summary>
    /// The fibres of a colour. In a solid colour every fibre is taken to have the cloth's colour, which is what a dye
    /// house aims at. In a heather the dark fibre is polyester as far as there is polyester (dyed in the melt, the usual
    /// way), unless the file says that it is the cellulose; the pale one is undyed.
    /// </summary>
    public static ImmutableArray<ClothFibre> Of(GarmentColour colour)
    {
        if (colour.HeatherFleck is not { } fleck)
            return [.. colour.Fibres.Select(f => new ClothFibre(f.Fibre, f.Share, colour.Reflectance, true))];
        var dark = fleck.DarkShare;
        var fibres = ImmutableArray.CreateBuilder<ClothFibre>();
        foreach (
            var part in colour.Fibres.OrderBy(f => f.Fibre == FibreKind.Polyester == fleck.DarkOnCellulose ? 1 : 0)
        )
        {
            var darkPart = Math.Min(dark, part.Share);
            dark -= darkPart;
            if (darkPart > 0)
                fibres.Add(new(part.Fibre, darkPart, fleck.DarkFibre, true));
            if (part.Share > darkPart)
                fibres.Add(new(part.Fibre, part.Share - darkPart, fleck.PaleFibre, false));
        }
        return fibres.ToImmutable();
    }

    /// <summary>Reflectance of the cloth these fibres make, [STEARNS-NOECHEL-1944].</summary>
    public static Spectrum Blend(ImmutableArray<ClothFibre> fibres)
    {
        var weight = fibres.Sum(f => f.Share);
        if (weight <= 0)
            throw new ArgumentException($"the fibres' shares add up to {weight}, more than 0 is needed");
        var values = new double[Spectrum.Bands];
        for (var band = 0; band < Spectrum.Bands; band++)
            values[band] = StearnsNoechel.Reflectance(
                fibres.Sum(f => f.Share / weight * StearnsNoechel.F(f.Reflectance[band]))
            );
        return Spectrum.Of(values);
    }
}
