namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// What each 64-pixel word of the film rows between two art rows needs, and the buffers to do it: the state of one
/// thread in <see cref="HalftoneRows"/>.
/// </summary>
internal sealed class HalftonePlan
{
    [Flags]
    private enum Need : byte
    {
        Blank = 0,
        Solid = 1,
        Pattern = 2,
        Tone = 4,
        Edge = 8,
    }

    private readonly record struct Run(int First, int End, Need Need, byte Tone);

    /// <summary>Entries before the first pixel of an interpolated row: taps reach two pixels to the left.</summary>
    internal const int Pad = 2;

    private readonly HalftoneRows _film;
    private readonly List<Run> _runs = [];
    private int _artRow = int.MinValue;
    private bool _anyTone;
    private bool _anyEdge;

    // Smallest and largest value of the art rows that a film row mixes.
    private readonly byte[] _toneLow;
    private readonly byte[] _toneHigh;
    private readonly byte[] _shapeLow;
    private readonly byte[] _shapeHigh;
    private readonly short[] _tones;
    private readonly short[] _coverages;

    internal HalftonePlan(HalftoneRows film)
    {
        _film = film;
        var width = film.Tone.Width;
        (_toneLow, _toneHigh) = (new byte[width], new byte[width]);
        (_shapeLow, _shapeHigh) = (new byte[width], new byte[width]);
        // The vector path reads 64 entries from any pixel.
        _tones = new short[width + 2 * Pad + 64];
        _coverages = new short[width + 2 * Pad + 64];
    }

    internal void MakeRow(int y, Span<ulong> row)
    {
        var artRow = _film.Down.Index[y];
        if (artRow != _artRow)
            Plan(artRow);
        if (_anyTone)
            InterpolateTones(artRow, y);
        if (_anyEdge)
            InterpolateCoverages(artRow, y);

        var (brick, start) = _film.Tile.Locate(y);
        var period = _film.Tile.Width;
        var thresholds = _film.Tile.Row(brick);
        foreach (var run in _runs)
        {
            var words = row[run.First..run.End];
            if (run.Need is Need.Blank or Need.Solid)
            {
                words.Fill(run.Need == Need.Blank ? 0 : ulong.MaxValue);
                continue;
            }
            if (Has(run.Need, Need.Edge))
                HalftoneKernels.Edges(words, run.First * 64, _coverages, _film.Across);
            else
                words.Fill(ulong.MaxValue);
            var at = (int)((start + 64L * run.First) % period);
            if (Has(run.Need, Need.Pattern))
                HalftoneKernels.AndPattern(words, _film.Tile.Pattern(run.Tone, brick), at, period);
            else if (Has(run.Need, Need.Tone))
                HalftoneKernels.AndTones(words, run.First * 64, _tones, _film.Across, thresholds, at, period);
        }
        BitRows.ClearBeyond(row, _film.Width);
    }

    private static bool Has(Need need, Need part) => (need & part) == part;

    private void Plan(int artRow)
    {
        _artRow = artRow;
        _runs.Clear();
        (_anyTone, _anyEdge) = (false, false);
        Extremes(_film.Tone, artRow, artRow + 1, _toneLow, _toneHigh);
        if (_film.Shape is not null)
            Extremes(_film.Shape, artRow - 1, artRow + 2, _shapeLow, _shapeHigh);
        var index = _film.Across.Index;
        for (var word = 0; word < index.Length / 64; word++)
        {
            var (need, tone) = NeedOf(index[word * 64], index[word * 64 + 63]);
            _anyTone |= Has(need, Need.Tone);
            _anyEdge |= Has(need, Need.Edge);
            if (_runs.Count > 0 && _runs[^1].Need == need && _runs[^1].Tone == tone)
                _runs[^1] = _runs[^1] with { End = word + 1 };
            else
                _runs.Add(new(word, word + 1, need, tone));
        }
    }

    /// <summary>What a word needs that lies between art pixels first and last + 1.</summary>
    private (Need, byte) NeedOf(int first, int last)
    {
        var most = _film.Tone.Width - 1;
        var edge = Need.Blank;
        if (_film.Shape is not null)
        {
            var (from, to) = (Math.Max(0, first - 1), Math.Min(most, last + 2) + 1);
            if (!_shapeHigh.AsSpan(from..to).ContainsAnyExcept((byte)0))
                return (Need.Blank, 0);
            if (_shapeLow.AsSpan(from..to).ContainsAnyExcept((byte)255))
                edge = Need.Edge;
        }
        var (left, right) = (Math.Max(0, first), Math.Min(most, last + 1) + 1);
        var tone = _toneLow[left];
        if (
            _toneLow.AsSpan(left..right).ContainsAnyExcept(tone)
            || _toneHigh.AsSpan(left..right).ContainsAnyExcept(tone)
        )
            return (edge | Need.Tone, 0);
        return tone switch
        {
            0 => (Need.Blank, 0),
            255 => (edge == Need.Blank ? Need.Solid : edge, 0),
            _ => (edge | Need.Pattern, tone),
        };
    }

    private static void Extremes(BytePlane plane, int first, int last, Span<byte> low, Span<byte> high)
    {
        Row(plane, first).CopyTo(low);
        low.CopyTo(high);
        for (var y = first + 1; y <= last; y++)
            HalftoneKernels.MinMax(Row(plane, y), low, high);
    }

    private static ReadOnlySpan<byte> Row(BytePlane plane, int y) => plane.Row(Math.Clamp(y, 0, plane.Height - 1));

    private void InterpolateTones(int artRow, int y)
    {
        HalftoneKernels.Between(
            Row(_film.Tone, artRow),
            Row(_film.Tone, artRow + 1),
            _film.Down.Fraction[y],
            _tones.AsSpan(Pad)
        );
        RepeatEnds(_tones);
    }

    private void InterpolateCoverages(int artRow, int y)
    {
        var shape = _film.Shape!;
        var cubic = _film.Down.Cubic;
        HalftoneKernels.Cubic(
            Row(shape, artRow - 1),
            Row(shape, artRow),
            Row(shape, artRow + 1),
            Row(shape, artRow + 2),
            (cubic[0][y], cubic[1][y], cubic[2][y], cubic[3][y]),
            _coverages.AsSpan(Pad)
        );
        RepeatEnds(_coverages);
    }

    private void RepeatEnds(short[] row)
    {
        var last = Pad + _film.Tone.Width - 1;
        row[0] = row[1] = row[Pad];
        row[last + 1] = row[last + 2] = row[last];
    }
}
