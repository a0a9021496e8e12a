namespace ProofDesk.Imaging.Colour;

/// <summary>
/// Linear Bradford adaptation, [ICC-1] annex E: what a colour seen under one white looks like under another. It is used
/// only between the viewing light and the display; the cloth itself is computed spectrally under its light.
/// </summary>
public static class Bradford
{
    // Cone response matrix of [ICC-1] annex E.
    private static readonly Matrix3 Cone = new(
        new[,]
        {
            { 0.8951, 0.2664, -0.1614 },
            { -0.7502, 1.7135, 0.0367 },
            { 0.0389, -0.0685, 1.0296 },
        }
    );

    /// <summary>The colour that looks under <paramref name="to"/> as <paramref name="xyz"/> looks under <paramref name="from"/>.</summary>
    public static Xyz Adapt(Xyz xyz, ViewingLight from, ViewingLight to) =>
        from == to ? xyz : Adapt(xyz, Tristimulus.White(from), Tristimulus.White(to));

    public static Xyz Adapt(Xyz xyz, Xyz fromWhite, Xyz toWhite)
    {
        var (x, y, z) = Matrix(fromWhite, toWhite).Times(xyz.X, xyz.Y, xyz.Z);
        return new(x, y, z);
    }

    /// <summary>Cone^-1 diag(to/from) Cone.</summary>
    internal static Matrix3 Matrix(Xyz fromWhite, Xyz toWhite)
    {
        var (r, g, b) = Cone.Times(fromWhite.X, fromWhite.Y, fromWhite.Z);
        var (r2, g2, b2) = Cone.Times(toWhite.X, toWhite.Y, toWhite.Z);
        return Cone.Inverse().Times(Matrix3.Diagonal(r2 / r, g2 / g, b2 / b)).Times(Cone);
    }
}
