namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// Where a search for a colour begins: with few inks, those whose solids lie in the colour's direction, over much base, little and
/// none. A print of many plates uses three or four at a place (common practice), and a search that begins there needs
/// the colours of few combinations; from all plates at half it would need every one.
/// </summary>
internal sealed class StartPlaces
{
    /// <summary>Different places to begin from.</summary>
    public const int Count = 6;

    private readonly int _plates;
    private readonly int[] _whites;
    private readonly (int Plate, double A, double B)[] _inks;

    /// <summary>Solids on the whites, or where they rest on the cloth, as the first model sees them.</summary>
    public StartPlaces(PlateModel model, PlateModel.Work work, IReadOnlyList<bool> isWhite, IReadOnlyList<float> most)
    {
        _plates = model.Plates;
        var runs = Enumerable.Range(0, _plates).Where(i => most[i] > 0).ToArray();
        _whites = [.. runs.Where(i => isWhite[i])];
        var at = new float[_plates];
        foreach (var white in _whites)
            at[white] = 1;
        var (_, groundA, groundB) = model.At(at, work);
        _inks =
        [
            .. runs.Where(i => !isWhite[i])
                .Select(i =>
                {
                    at[i] = 1;
                    var (_, a, b) = model.At(at, work);
                    at[i] = 0;
                    return (i, a - groundA, b - groundB);
                }),
        ];
        (GroundA, GroundB) = (groundA, groundB);
    }

    private double GroundA { get; }
    private double GroundB { get; }

    /// <param name="wanted">Oklab x 100 on the first ground.</param>
    public void Fill(Span<float> at, ReadOnlySpan<double> wanted, int start)
    {
        at.Clear();
        for (var k = 0; k < _whites.Length; k++)
            at[_whites[k]] = start switch
            {
                0 or 3 => k == 0 ? 0.9f : 0.3f,
                1 or 4 => k == 0 ? 0.2f : 0.1f,
                2 => 0.6f,
                _ => 0,
            };
        var inks = start switch
        {
            3 => 1,
            4 => 2,
            5 => 3,
            _ => Math.Min(_inks.Length, 3 + start),
        };
        var share = start switch
        {
            0 => 0.4f,
            1 => 0.3f,
            2 => 0.5f,
            3 => 0.8f,
            _ => 0.6f,
        };
        Span<int> nearest = stackalloc int[_inks.Length];
        Span<double> off = stackalloc double[_inks.Length];
        for (var i = 0; i < _inks.Length; i++)
            (nearest[i], off[i]) = (_inks[i].Plate, Off(_inks[i], wanted[1] - GroundA, wanted[2] - GroundB));
        off.Sort(nearest);
        for (var i = 0; i < Math.Min(inks, nearest.Length); i++)
            at[nearest[i]] = share;
    }

    /// <summary>How far the colour lies beside the way to an ink's solid; among equals the less colourful comes first.</summary>
    private static double Off((int Plate, double A, double B) ink, double a, double b)
    {
        var length = ink.A * ink.A + ink.B * ink.B;
        var share = Math.Clamp((a * ink.A + b * ink.B) / Math.Max(1e-9, length), 0, 1);
        var (da, db) = (a - share * ink.A, b - share * ink.B);
        return Math.Sqrt(da * da + db * db) + 0.1 * Math.Sqrt(length);
    }
}
