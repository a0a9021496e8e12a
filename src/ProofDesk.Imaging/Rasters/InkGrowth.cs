namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Ink that spreads by a radius which varies along the edge: normally distributed around a mean. The radius is realised
/// by digital discs that contain each other; disc k shows where a noise mask lets it, with the share that makes the
/// mean growth exact: P(k) = E[clamp((r - g(k-1)) / (g(k) - g(k-1)), 0, 1)], g = <see cref="Disc.GrowthPx"/>. So
/// sub-pixel radii cost one more disc, and the noise makes the ragged edge of ink on knit.
/// </summary>
public sealed class InkGrowth
{
    private readonly Disc[] _discs;
    private readonly BitPlane?[] _masks;
    private readonly ulong _turnSeed;

    /// <param name="radiusPx">Mean growth, px of the film.</param>
    /// <param name="sigmaPx">Standard deviation along an edge, px.</param>
    /// <param name="grainPx">Size of the raggedness, px.</param>
    /// <param name="seed">Same seed, same edge.</param>
    public InkGrowth(double radiusPx, double sigmaPx, double grainPx, ulong seed)
        : this(radiusPx, sigmaPx, new NoiseMasks(seed, grainPx), 0x5EED) { }

    /// <param name="radiusPx">Mean growth, px of the film.</param>
    /// <param name="sigmaPx">Standard deviation along an edge, px.</param>
    /// <param name="noise">Raggedness; may be shared by several plates.</param>
    /// <param name="turnSeed">Turns the noise, so that plates that share it do not share their edges.</param>
    public InkGrowth(double radiusPx, double sigmaPx, NoiseMasks noise, ulong turnSeed)
    {
        _turnSeed = turnSeed;
        if (!(radiusPx >= 0) || radiusPx > 32 || !(sigmaPx >= 0) || sigmaPx > 16)
            throw new ArgumentException(
                $"growth is 0 to 32 px with a deviation of 0 to 16 px; {radiusPx} and {sigmaPx} given"
            );
        var discs = new List<Disc>();
        var shares = new List<double>();
        var inner = Disc.Within(0);
        while (true)
        {
            var disc = inner.Next();
            var share = Share(inner.GrowthPx, disc.GrowthPx, radiusPx, sigmaPx);
            if (share < 1e-4)
                break;
            // A disc that shows everywhere covers all smaller ones.
            if (share > 1 - 1e-4)
                (discs, shares) = ([disc], [1]);
            else
                (discs, shares) = ([.. discs, disc], [.. shares, share]);
            inner = disc;
        }
        _discs = [.. discs];
        _masks = new BitPlane?[_discs.Length];
        for (var k = 0; k < _discs.Length; k++)
            _masks[k] = shares[k] == 1 ? null : noise.Mask(shares[k]);
        HaloRows = _discs.Length == 0 ? 0 : _discs[^1].Reach;
    }

    /// <summary>Rows the source needs above and below the target.</summary>
    public int HaloRows { get; }

    /// <summary>The disc that holds all others.</summary>
    public Disc Largest => _discs.Length == 0 ? Disc.Within(0) : _discs[^1];

    /// <summary>
    /// Grows the ink of <paramref name="source"/> into <paramref name="target"/>, whose row y lies at row y +
    /// <paramref name="sourceTop"/> of the source and at row y + <paramref name="top"/> of the film (for the noise).
    /// </summary>
    /// <param name="word">Word of the film at the target's first word, for the noise of a part of a row.</param>
    public void Grow(BitPlane source, BitPlane target, int sourceTop, int top, int word = 0)
    {
        if (source.Width != target.Width)
            throw new ArgumentException($"source is {source.Width} px wide, target {target.Width} px");
        RowLoop.RunBands(
            target.Height,
            Math.Max(64, (1 << 18) / source.Width),
            (first, count) =>
            {
                var rows = new DiscRows();
                rows.LoadForDilation(source, first + sourceTop, count, Largest);
                Span<ulong> grown = new ulong[source.Stride];
                for (var y = 0; y < count; y++)
                    GrowRow(
                        source,
                        rows,
                        y,
                        y + first + sourceTop,
                        y + first + top,
                        word,
                        target.Row(first + y),
                        grown
                    );
            }
        );
    }

    /// <summary>The same from rows that are loaded already, in this thread.</summary>
    /// <param name="rows">Loaded for dilation, from row <paramref name="sourceTop"/> of the source on, by a disc that holds <see cref="Largest"/>.</param>
    public void Grow(BitPlane source, DiscRows rows, BitPlane target, int sourceTop, int top, int word)
    {
        Span<ulong> grown = stackalloc ulong[Math.Min(source.Stride, 64)];
        if (grown.Length < source.Stride)
            grown = new ulong[source.Stride];
        for (var y = 0; y < target.Height; y++)
            GrowRow(source, rows, y, y + sourceTop, y + top, word, target.Row(y), grown);
    }

    private void GrowRow(
        BitPlane source,
        DiscRows rows,
        int y,
        int sourceY,
        int filmY,
        int word,
        Span<ulong> row,
        Span<ulong> grown
    )
    {
        if (_masks.Length == 0 || _masks[0] is not null)
        {
            if (sourceY >= 0 && sourceY < source.Height)
                source.Row(sourceY).CopyTo(row);
            else
                row.Clear();
        }
        // The tile is turned by another amount each time it repeats downwards, so that no pattern lines up.
        var tile = (int)Math.Floor(filmY / (double)NoiseMasks.Height);
        const int Words = NoiseMasks.Width / 64;
        var turn = ((int)(SeededNoise.Hash(_turnSeed, tile) % Words) + word) & (Words - 1);
        Span<ulong> turned = stackalloc ulong[Words];
        for (var k = 0; k < _discs.Length; k++)
        {
            if (_masks[k] is not { } mask)
            {
                rows.Dilated(y, _discs[k], row);
                continue;
            }
            rows.Dilated(y, _discs[k], grown);
            var words = mask.Row(filmY - tile * NoiseMasks.Height);
            words[turn..].CopyTo(turned);
            words[..turn].CopyTo(turned[(Words - turn)..]);
            BitRows.OrMasked(row, grown, turned);
        }
    }

    /// <summary>E[clamp((r - a) / (b - a), 0, 1)] for normal r; by the midpoint rule over the normal's quantiles.</summary>
    private static double Share(double a, double b, double mean, double sigma)
    {
        if (sigma == 0)
            return Math.Clamp((mean - a) / (b - a), 0, 1);
        const int steps = 400;
        double sum = 0,
            weight = 0;
        for (var i = 0; i < steps; i++)
        {
            var z = -4 + 8 * (i + 0.5) / steps;
            var w = Math.Exp(-z * z / 2);
            sum += w * Math.Clamp((mean + z * sigma - a) / (b - a), 0, 1);
            weight += w;
        }
        return sum / weight;
    }
}
