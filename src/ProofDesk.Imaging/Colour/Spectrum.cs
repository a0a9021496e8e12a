namespace ProofDesk.Imaging.Colour;

/// <summary>
/// A quantity sampled in 36 bands, 380 to 730 nm every 10 nm: a reflectance factor (0..1, above 1 only with
/// fluorescence), an absorption or scattering coefficient (per micrometre) or a transmittance.
/// </summary>
public sealed class Spectrum
{
    /// <summary>Number of bands.</summary>
    public const int Bands = 36;

    /// <summary>Wavelength of the first band, nm.</summary>
    public const int FirstNanometres = 380;

    /// <summary>Distance between bands, nm.</summary>
    public const int StepNanometres = 10;

    private readonly double[] _values;

    private Spectrum(double[] values) => _values = values;

    /// <summary>Value of band <paramref name="band"/>, 0..35.</summary>
    public double this[int band] => _values[band];

    /// <summary>All 36 values.</summary>
    public ReadOnlySpan<double> Values => _values;

    /// <summary>Wavelength of a band, nm.</summary>
    public static int Nanometres(int band) => FirstNanometres + StepNanometres * band;

    /// <summary>A spectrum from 36 values; the values are copied.</summary>
    /// <exception cref="ArgumentException">Not 36 values, or one of them is not a finite number.</exception>
    public static Spectrum Of(ReadOnlySpan<double> values)
    {
        if (values.Length != Bands)
            throw new ArgumentException(
                $"a spectrum has {Bands} bands, 380 to 730 nm every 10 nm; {values.Length} given"
            );
        for (var i = 0; i < Bands; i++)
            if (!double.IsFinite(values[i]))
                throw new ArgumentException($"band {Nanometres(i)} nm is {values[i]}, a finite number is needed");
        return new Spectrum(values.ToArray());
    }

    /// <summary>The same value in every band.</summary>
    public static Spectrum Flat(double value) => From(_ => value);

    /// <summary>A spectrum from a function of the wavelength in nm.</summary>
    public static Spectrum From(Func<double, double> ofNanometres)
    {
        var values = new double[Bands];
        for (var i = 0; i < Bands; i++)
            values[i] = ofNanometres(Nanometres(i));
        return Of(values);
    }

    /// <summary>Applies a function to each band.</summary>
    public Spectrum Map(Func<double, double> each)
    {
        var values = new double[Bands];
        for (var i = 0; i < Bands; i++)
            values[i] = each(_values[i]);
        return Of(values);
    }

    /// <summary>Combines two spectra band by band.</summary>
    public static Spectrum Combine(Spectrum a, Spectrum b, Func<double, double, double> each)
    {
        var values = new double[Bands];
        for (var i = 0; i < Bands; i++)
            values[i] = each(a._values[i], b._values[i]);
        return Of(values);
    }
}
