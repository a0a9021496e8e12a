namespace ProofDesk.Printing.Presses;

/// <summary>
/// Cells of some rows between bits and picture, one plane each: what the ink returns by itself (X, Y, Z), the square root
/// of what passed through cloth (with the spread's reach of bare cloth at both sides), and the share of ink.
/// </summary>
internal sealed class BandRows
{
    public BandRows(int width, int rows, int reach)
    {
        (Width, Rows, Reach) = (width, rows, reach);
        for (var c = 0; c < 3; c++)
        {
            Surface[c] = new float[width * rows];
            Root[c] = new float[(width + 2 * reach) * rows];
        }
        Ink = new float[width * rows];
        Height = new float[width * rows];
    }

    private float[][] _mirror = [];

    public int Width { get; }
    public int Rows { get; }
    public int Reach { get; }
    public float[][] Surface { get; } = new float[3][];
    public float[][] Root { get; } = new float[3][];
    public float[] Ink { get; }
    public float[] Height { get; }

    public Span<float> SurfaceRow(int channel, int row) => Surface[channel].AsSpan(row * Width, Width);

    /// <summary>A row with its reach at both sides.</summary>
    public Span<float> WideRootRow(int channel, int row) =>
        Root[channel].AsSpan(row * (Width + 2 * Reach), Width + 2 * Reach);

    public Span<float> RootRow(int channel, int row) => WideRootRow(channel, row).Slice(Reach, Width);

    public Span<float> InkRow(int row) => Ink.AsSpan(row * Width, Width);

    /// <summary>Mean height of what lies on the cloth, um.</summary>
    public Span<float> HeightRow(int row) => Height.AsSpan(row * Width, Width);

    /// <summary>What mirrors, X, Y, Z; there only once <see cref="HoldMirrors"/> was called.</summary>
    public Span<float> MirrorRow(int channel, int row) => _mirror[channel].AsSpan(row * Width, Width);

    public bool HasMirrors => _mirror.Length > 0;

    /// <summary>Makes room for what mirrors, once.</summary>
    public void HoldMirrors()
    {
        if (!HasMirrors)
            _mirror = [new float[Width * Rows], new float[Width * Rows], new float[Width * Rows]];
    }

    /// <summary>Makes a row bare cloth: surface X, Y, Z, then root X, Y, Z, as <see cref="PressSetUp.Cloth"/> gives them.</summary>
    public void ClothRow(int row, ReadOnlySpan<float> cloth)
    {
        InkRow(row).Clear();
        HeightRow(row).Clear();
        for (var c = 0; c < 3; c++)
        {
            SurfaceRow(c, row).Fill(cloth[c]);
            WideRootRow(c, row).Fill(cloth[3 + c]);
            if (HasMirrors)
                MirrorRow(c, row).Clear();
        }
    }
}
