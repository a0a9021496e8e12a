using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// The part of the cloth that is looked at, in cells: a cell is a picture pixel, or one film pixel under the loupe.
/// </summary>
/// <param name="Left">First cell, counted from the left edge of the films.</param>
/// <param name="CellWidth">Film pixels across a cell.</param>
/// <param name="Whole">Whether the tile's ready sums pay.</param>
/// <param name="FirstWord">
/// Words of 64 film pixels from the left edge of the whole print's view to this one: edges are ragged in the same places.
/// </param>
internal readonly record struct View(int Left, int Width, int CellWidth, int CellHeight, bool Whole, int FirstWord = 0)
{
    /// <summary>
    /// A part of the print that holds the cells from <paramref name="left"/> on. It begins a little further left, where a word
    /// of the whole print's view begins.
    /// </summary>
    public static View Part(PressSetUp press, int left, int width, int cellWidth, int cellHeight, bool whole)
    {
        var origin = -press.PadCells * press.Scale.CellWidth;
        var word = (int)Math.Floor((left * cellWidth - origin) / 64.0);
        // Back to where a word begins at a cell of this view.
        while ((origin + 64 * word) % cellWidth != 0)
            word--;
        var first = (origin + 64 * word) / cellWidth;
        return new(first, left - first + width, cellWidth, cellHeight, whole, word);
    }
}

/// <summary>
/// Prints bands of rows: film bits, register, lost dots, growth, then codes summed over cells. One a thread, with its own
/// planes; after the first band it allocates only what the kernels need for a row.
/// </summary>
internal sealed class BandRenderer
{
    /// <summary>
    /// Words of a tile, one at each side only for what reaches over: a tile's planes stay in the second-level cache, and
    /// tiles without an edge (most of any art) are copied.
    /// </summary>
    private const int TileWords = 16;

    private const int UsedWords = TileWords - 2;
    private const int TilePx = 64 * TileWords;

    private readonly PressSetUp _press;
    private readonly View _view;
    private readonly ClassTile _tile;
    private readonly int _rows;
    private readonly float[] _cloth;
    private readonly PlaneShift[] _shifts;
    private readonly BitPlane[] _printed;
    private readonly BitPlane _film;
    private readonly BitPlane _landed;
    private readonly BitPlane _core;
    private readonly DiscRows _discRows = new();
    private readonly BitPlane _kept;
    private readonly BitPlane _grown;
    private readonly BitPlane _grownOnBase;
    private readonly BitPlane _inked;
    private readonly BitPlane _base;
    private readonly CodeCells _cells;
    private readonly CodeCells? _mirrors;
    private readonly int[] _sums;

    public BandRenderer(PressSetUp press, View view, ClassTile tile, int rows)
    {
        (_press, _view, _tile, _rows) = (press, view, tile, rows);
        var (width, height) = (view.Width * view.CellWidth, rows * view.CellHeight);
        var film = press.Screens[0].Film;
        var pad = -view.Left * view.CellWidth;
        _shifts = [.. press.Screens.Select(s => s.Register.Shift(press.Scale, film.Width, film.Height, pad))];
        _printed = [.. press.Screens.Select(_ => new BitPlane(width, height))];
        var kept = height + 2 * press.SpreadRows;
        var landed = kept + 2 * press.LostRows;
        var slope = _shifts.Max(s => Math.Abs(s.Dyx) * width + Math.Abs(s.Dyy) * landed);
        _film = new(film.Width, landed + (int)Math.Ceiling(slope) + 3);
        _landed = new(TilePx, landed);
        _core = new(TilePx, kept + 2 * press.RegrowRows);
        _kept = new(TilePx, kept);
        _grown = new(TilePx, height + 2);
        _grownOnBase = new(TilePx, height + 2);
        _inked = new(TilePx, height);
        _base = new(TilePx, height);
        _cells = new(_printed, press.Table, tile, view.Whole);
        _mirrors = press.Mirrors is { } mirrors ? new(_printed, mirrors, tile, view.Whole) : null;
        _sums = new int[view.Width * CodeColours.Lanes];
        _cloth = press.Cloth(view.CellWidth * view.CellHeight);
    }

    /// <summary>
    /// Prints rows <paramref name="top"/> to top + rows - 1 (counted from the top edge of the films) into <paramref name="target"/>,
    /// the view's first cell at column <paramref name="targetX"/>.
    /// </summary>
    public void Render(int top, BandRows target, int targetX)
    {
        PrintBits(top * _view.CellHeight);
        for (var row = 0; row < _rows; row++)
        {
            target.ClothRow(row, _cloth);
            _cells.Open(row * _view.CellHeight);
            SumRow(_cells, row, top + row);
            Spread(row, target, targetX);
            if (_mirrors is null)
                continue;
            _mirrors.Open(row * _view.CellHeight);
            SumRow(_mirrors, row, top + row);
            Mirror(row, target, targetX);
        }
    }

    private void PrintBits(int top)
    {
        var landedTop = top - _press.SpreadRows - _press.LostRows;
        for (var k = 0; k < _printed.Length; k++)
        {
            var screen = _press.Screens[k];
            var width = _printed[k].Width;
            var (first, _) = _shifts[k].FilmRows(landedTop, _landed.Height, width);
            screen.Film.ReadRows(first, _film);
            if (!_film.Words.AsSpan().ContainsAnyExcept(0UL))
            {
                _printed[k].Words.AsSpan().Clear();
                continue;
            }
            for (var word = 0; word < _printed[k].Stride; word += UsedWords)
                PrintTile(k, screen, word, first, landedTop, top);
            for (var y = 0; y < _printed[k].Height; y++)
                BitRows.ClearBeyond(_printed[k].Row(y), width);
        }
    }

    private void PrintTile(int k, MountedScreen screen, int word, int filmTop, int landedTop, int top)
    {
        // The tile's own pixel 0 is one word left of the first pixel it is used for.
        var left = 64 * (word - 1);
        var shift = _shifts[k];
        var tileShift = shift with { Dx = shift.Dx + left + shift.Dxx * left, Dy = shift.Dy + shift.Dyx * left };
        tileShift.Fetch(_film, filmTop, _landed, landedTop);
        var printed = _printed[k];
        var used = Math.Min(UsedWords, printed.Stride - word);
        var start = _landed.Words[0] & 1;
        var even = start == 0 ? 0UL : ulong.MaxValue;
        if (!_landed.Words.AsSpan().ContainsAnyExcept(even))
        {
            for (var y = 0; y < printed.Height; y++)
                printed.Row(y).Slice(word, used).Fill(even);
            return;
        }
        var noise = word + _view.FirstWord;
        screen.LostDots.Print(_landed, _kept, _core, _discRows, top - _press.SpreadRows, noise, screen.PlateIndex);
        var below = BaseBelow(screen.BasesBelow, word);
        screen.Spread.Spread(_kept, below, _inked, _grown, _grownOnBase, _discRows, top, noise);
        for (var y = 0; y < printed.Height; y++)
            _inked.Row(y).Slice(1, used).CopyTo(printed.Row(y)[word..]);
    }

    /// <summary>Printed base under a tile, or null when there is none.</summary>
    private BitPlane? BaseBelow(int bases, int word)
    {
        if (bases == 0)
            return null;
        _base.Words.AsSpan().Clear();
        for (var k = 0; bases >> k != 0; k++)
        {
            if ((bases >> k & 1) == 0)
                continue;
            var from = Math.Max(0, word - 1);
            var count = Math.Min(word - 1 + TileWords, _printed[k].Stride) - from;
            for (var y = 0; y < _base.Height; y++)
                BitRows.Or(_base.Row(y).Slice(from - (word - 1), count), _printed[k].Row(y).Slice(from, count));
        }
        return _base.Words.AsSpan().ContainsAnyExcept(0UL) ? _base : null;
    }

    private void SumRow(CodeCells cells, int row, int y)
    {
        for (var x = 0; x < _view.Width; )
        {
            var (tileX, tileY, run) = TileAt(_view.Left + x, y);
            run = Math.Min(run, _view.Width - x);
            cells.Sum(
                row * _view.CellHeight,
                x,
                run,
                tileX,
                tileY,
                _sums.AsSpan(x * CodeColours.Lanes, run * CodeColours.Lanes)
            );
            x += run;
        }
    }

    private (int X, int Y, int Run) TileAt(int x, int y)
    {
        // The knit is laid out in picture cells; under the loupe a cell of the view is a part of one.
        var (across, down) = (_press.Scale.CellWidth / _view.CellWidth, _press.Scale.CellHeight / _view.CellHeight);
        var (cellX, cellY) = ((int)Math.Floor(x / (double)across), (int)Math.Floor(y / (double)down));
        var (tileX, tileY, run) = _press.Knit.At(cellX, cellY);
        var (inX, inY) = (x - cellX * across, y - cellY * down);
        return (tileX * across + inX, tileY * down + inY, run * across - inX);
    }

    private void Mirror(int row, BandRows target, int targetX)
    {
        target.HoldMirrors();
        var scale = 1f / CodeTable.One / (_view.CellWidth * _view.CellHeight);
        for (var c = 0; c < 3; c++)
        {
            var mirror = target.MirrorRow(c, row).Slice(targetX, _view.Width);
            for (var x = 0; x < mirror.Length; x++)
                mirror[x] = _sums[x * CodeColours.Lanes + c] * scale;
        }
    }

    private void Spread(int row, BandRows target, int targetX)
    {
        var scale = 1f / CodeTable.One / (_view.CellWidth * _view.CellHeight);
        var share = 1f / (_view.CellWidth * _view.CellHeight);
        for (var c = 0; c < 3; c++)
        {
            var surface = target.SurfaceRow(c, row).Slice(targetX, _view.Width);
            var root = target.RootRow(c, row).Slice(targetX, _view.Width);
            for (var x = 0; x < surface.Length; x++)
            {
                surface[x] = _sums[x * CodeColours.Lanes + c] * scale;
                root[x] = _sums[x * CodeColours.Lanes + 4 + c] * scale;
            }
        }
        var ink = target.InkRow(row).Slice(targetX, _view.Width);
        for (var x = 0; x < ink.Length; x++)
            ink[x] = _sums[x * CodeColours.Lanes + 7] * share;
        if (!_press.Table.HasHeights)
            return;
        var height = target.HeightRow(row).Slice(targetX, _view.Width);
        for (var x = 0; x < height.Length; x++)
            height[x] = _sums[x * CodeColours.Lanes + 3] * share / CodeTable.HeightOne;
    }
}
