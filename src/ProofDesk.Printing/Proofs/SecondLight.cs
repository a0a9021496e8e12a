using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// Two colours under daylight, a filament lamp (A) and a three-band shop tube (F11), 10 degree observer, as textile laboratories
/// look ([ISO-105-J03] for the difference; the choice of lights is common practice). Two spectra that match in one light need not in
/// another.
/// </summary>
public sealed record SecondLight(double UnderD65, double UnderA, double UnderF11)
{
    /// <summary>Nearer than this (CIEDE2000) two colours match to a client's eye.</summary>
    public const double Match = 3;

    /// <summary>A match that widens by so much under another light is one a client sees fall apart.</summary>
    public const double FallsApart = 3;

    public static SecondLight Between(Spectrum one, Spectrum other)
    {
        double Under(ViewingLight light) => Ciede2000.Difference(Look(one, light), Look(other, light));
        return new(
            Under(ViewingLight.D65TenDegrees),
            Under(ViewingLight.ATenDegrees),
            Under(ViewingLight.F11TenDegrees)
        );
    }

    /// <summary>Lab under one of the lights.</summary>
    public static Lab Look(Spectrum colour, ViewingLight light) => CieLab.FromXyz(Tristimulus.Of(colour, light), light);

    /// <summary>The larger of the two differences under the second lights.</summary>
    public double Worst => Math.Max(UnderA, UnderF11);

    /// <summary>"A" or "F11".</summary>
    public string WorstLight => UnderA >= UnderF11 ? "A" : "F11";

    /// <summary>Matches under D65 and no longer under a second light.</summary>
    public bool IsMetameric => UnderD65 <= Match && Worst >= UnderD65 + FallsApart;
}

/// <summary>A printed solid beside the art's colour, whose spectrum is taken as smooth: as a dyed cloth or a printed card would be.</summary>
/// <param name="Plate">Name of the plate.</param>
/// <param name="Target">What it is held against, e.g. "the art's #c8102e".</param>
public sealed record SecondLightRow(string Plate, string Target, SecondLight Difference, Lab UnderA, Lab UnderF11);
