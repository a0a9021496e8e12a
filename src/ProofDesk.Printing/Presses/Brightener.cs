using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Optical brightener in white cloth: an emission added to the reflectance, so the total radiance factor can pass 1
/// ([ISO-13655] M1). The band is a proposal: Gaussian at 440 nm, sigma 22 nm, peak 0.2 to 0.35 for brightened cotton.
/// </summary>
public static class Brightener
{
    /// <summary>Radiance factor the brightener adds to bare cloth at a wavelength.</summary>
    public static double Emission(double peak, double nm) => peak * Math.Exp(-Math.Pow((nm - 440) / 22, 2) / 2);

    /// <summary>The bare cloth as it looks: reflectance plus emission.</summary>
    public static Spectrum Radiance(GarmentColour cloth)
    {
        if (cloth.BrightenerPeak == 0)
            return cloth.Reflectance;
        var emission = Spectrum.From(nm => Emission(cloth.BrightenerPeak, nm));
        return Spectrum.Combine(cloth.Reflectance, emission, (r, f) => r + f);
    }
}
