namespace ProofDesk.Imaging.Colour;

/// <summary>
/// Spectrum to CIE tristimulus values by weighted sums over the 36 bands. The weights fold observer and
/// illuminant together: built by the method of [ASTM-E2022] for 10 nm data without bandpass correction, the visible ends
/// summed into 380 and 730 nm, as [ASTM-E308] tables are. Computed from the 1 nm observer and daylight tables of
/// [CIE-15]; the tests hold them against the CIE test colour samples. The second lights are in <see cref="SecondLightWeights"/>.
/// </summary>
public static class Tristimulus
{
    // One row a band: D50 X, Y, Z, D65 X, Y, Z; the column sums are the whites, each with Y = 100.
    private static readonly double[,] Weights =
    {
        { 0.0039, 0.0001, 0.0183, 0.0079, 0.0002, 0.0371 },
        { 0.0121, 0.0003, 0.0572, 0.0221, 0.0006, 0.1044 },
        { 0.0599, 0.0017, 0.2835, 0.1007, 0.0028, 0.4767 },
        { 0.2332, 0.0062, 1.1103, 0.3756, 0.0100, 1.7883 },
        { 0.7747, 0.0228, 3.7218, 1.1999, 0.0355, 5.7654 },
        { 1.6186, 0.0664, 7.9013, 2.3961, 0.0984, 11.6975 },
        { 2.4513, 0.1623, 12.3009, 3.4178, 0.2261, 17.1502 },
        { 2.7718, 0.3127, 14.6184, 3.6987, 0.4173, 19.5057 },
        { 2.4983, 0.5140, 14.3382, 3.2273, 0.6642, 18.5203 },
        { 1.7179, 0.7984, 11.3036, 2.1488, 0.9980, 14.1366 },
        { 0.8601, 1.2384, 7.3017, 1.0424, 1.5013, 8.8498 },
        { 0.2831, 1.8410, 4.1319, 0.3327, 2.1637, 4.8559 },
        { 0.0399, 2.9473, 2.4657, 0.0455, 3.3521, 2.8024 },
        { 0.0883, 4.6325, 1.4466, 0.0980, 5.1290, 1.6019 },
        { 0.5937, 6.5910, 0.7370, 0.6367, 7.0763, 0.7913 },
        { 1.5889, 8.3016, 0.4006, 1.6665, 8.7076, 0.4197 },
        { 2.8002, 9.1993, 0.1965, 2.8836, 9.4736, 0.2023 },
        { 4.2042, 9.6451, 0.0847, 4.2504, 9.7519, 0.0856 },
        { 5.6573, 9.4718, 0.0368, 5.6259, 9.4191, 0.0366 },
        { 7.1350, 8.9054, 0.0197, 6.9877, 8.7217, 0.0193 },
        { 8.5331, 8.1051, 0.0149, 8.2136, 7.8017, 0.0144 },
        { 9.2692, 6.8388, 0.0104, 8.7298, 6.4419, 0.0098 },
        { 9.8333, 5.8367, 0.0073, 9.0147, 5.3511, 0.0067 },
        { 9.4643, 4.7511, 0.0035, 8.4915, 4.2625, 0.0032 },
        { 8.0063, 3.5718, 0.0016, 7.0504, 3.1452, 0.0014 },
        { 5.9321, 2.4457, 0.0005, 5.1241, 2.1126, 0.0004 },
        { 4.1684, 1.6282, 0.0002, 3.5158, 1.3732, 0.0001 },
        { 2.6113, 0.9851, 0, 2.1673, 0.8175, 0 },
        { 1.5414, 0.5700, 0, 1.2521, 0.4630, 0 },
        { 0.8537, 0.3124, 0, 0.6784, 0.2483, 0 },
        { 0.4332, 0.1574, 0, 0.3407, 0.1238, 0 },
        { 0.1944, 0.0703, 0, 0.1534, 0.0555, 0 },
        { 0.0969, 0.0350, 0, 0.0758, 0.0274, 0 },
        { 0.0500, 0.0180, 0, 0.0396, 0.0143, 0 },
        { 0.0221, 0.0080, 0, 0.0177, 0.0064, 0 },
        { 0.0218, 0.0079, 0, 0.0175, 0.0063, 0 },
    };

    // In the order of the enumeration: weights and the first of their three columns.
    private static readonly (double[,] Table, int Column)[] Tables =
    [
        (Weights, 0),
        (Weights, 3),
        (SecondLightWeights.A, 0),
        (SecondLightWeights.F11, 0),
        (SecondLightWeights.D65TenDegrees, 0),
        (SecondLightWeights.ATenDegrees, 0),
        (SecondLightWeights.F11TenDegrees, 0),
    ];

    private static readonly Xyz[] Whites = [.. Enum.GetValues<ViewingLight>().Select(light => Sum(_ => 1, light))];

    /// <summary>Tristimulus values of a reflectance (or total radiance) factor under a light; the perfect diffuser has Y = 100.</summary>
    public static Xyz Of(Spectrum reflectance, ViewingLight light) => Sum(i => reflectance[i], light);

    /// <summary>
    /// The perfect diffuser under a light: the column sums of the same table, so that its Lab is exactly 100, 0, 0. (The
    /// white of [ASTM-E308] differs by 0.008 at most.)
    /// </summary>
    public static Xyz White(ViewingLight light) => Whites[Known(light)];

    private static int Known(ViewingLight light) =>
        (int)light >= 0 && (int)light < Tables.Length
            ? (int)light
            : throw new ArgumentOutOfRangeException(nameof(light), light, "unknown viewing light");

    private static Xyz Sum(Func<int, double> factor, ViewingLight light)
    {
        var (weights, column) = Tables[Known(light)];
        double x = 0,
            y = 0,
            z = 0;
        for (var i = 0; i < Spectrum.Bands; i++)
        {
            var r = factor(i);
            x += weights[i, column] * r;
            y += weights[i, column + 1] * r;
            z += weights[i, column + 2] * r;
        }
        return new(x, y, z);
    }
}
