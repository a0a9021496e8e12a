namespace ProofDesk.Printing.TestForms;

/// <summary>
/// Two bars that part slowly: from touching to a gap of twice <see cref="MostUm"/>. Ink that grows by g at each edge closes the
/// gap up to where it is 2 g wide, so the place where as much of the gap is open as closed is read as g on the scale beside it. The
/// gap slants so that its edges grow by the mean over all directions: growth along the squeegee's way adds s |ny| to an edge
/// of normal n, its mean over directions is 2 s / pi, hence |ny| = 2 / pi.
/// </summary>
internal static class TaperGap
{
    public const double LengthMm = 30;
    public const double BarMm = 3;

    /// <summary>Growth that closes the whole gap.</summary>
    public const double MostUm = 120;

    /// <summary>Along the gap, from closed to open: right and down.</summary>
    public static (double X, double Y) Along { get; } = (2 / Math.PI, Math.Sqrt(1 - 4 / (Math.PI * Math.PI)));

    /// <summary>Across it: right and up.</summary>
    public static (double X, double Y) Across { get; } = (Along.Y, -Along.X);

    /// <summary>The closed end, from the block's top left corner.</summary>
    public static (double X, double Y) Start { get; } =
        (TestFormLayout.TaperLeft + BarMm * Across.X, TestFormLayout.TaperTop);

    public static double GapMm(double along) => 2 * MostUm / 1000 * along / LengthMm;

    /// <summary>
    /// Ragged edges touch across a narrow gap before their mean does, and what is left is too thin to be seen: the middle of
    /// the change from closed to open lies this much beyond the growth. Measured on 25 looks at our own prints (three meshes,
    /// both cloths, bare and based, growth 12 to 61 um, edges ragged by 6 um): mean 2.9 um, one look is off by 3 um.
    /// </summary>
    public const double UnseenUm = 3;

    /// <summary>Where the mark of a growth stands.</summary>
    public static double AlongMm(double growthUm) => (growthUm + UnseenUm) / MostUm * LengthMm;

    /// <summary>What the scale says there.</summary>
    public static double GrowthUm(double alongMm) => alongMm / LengthMm * MostUm - UnseenUm;

    /// <summary>A point of the gap, mm from the block's corner.</summary>
    public static (double X, double Y) Point(double along, double across) =>
        (Start.X + along * Along.X + across * Across.X, Start.Y + along * Along.Y + across * Across.Y);
}
