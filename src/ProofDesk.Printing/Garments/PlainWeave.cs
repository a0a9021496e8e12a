namespace ProofDesk.Printing.Garments;

/// <summary>
/// The face of plain weave: ends and picks lie on top by turns, and where a thread lies on top it is seen as a short
/// rounded length of itself (a drawing, no measurement).
/// </summary>
internal static class PlainWeave
{
    // Mean of the bracket below: (2/pi) (0.4 + 0.6 (2/pi)).
    private const double Mean = 2 / Math.PI * (0.4 + 0.6 * (2 / Math.PI));

    /// <summary>Height at a place counted in ends (u, across) and picks (v, down): mean 0, about -0.8 to 0.8.</summary>
    public static double Height(double u, double v)
    {
        var (end, pick) = ((long)Math.Floor(u), (long)Math.Floor(v));
        var (across, along) = (Math.Sin(Math.PI * (u - end)), Math.Sin(Math.PI * (v - pick)));
        var endOnTop = ((end + pick) & 1) == 0;
        return 1.6 * ((endOnTop ? across * (0.4 + 0.6 * along) : along * (0.4 + 0.6 * across)) - Mean);
    }
}
