using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// The part of the cloth that is looked at, in cells: a cell is a picture pixel, or one film pixel under the loupe.
/// </summary>
/// <param name="Left">First cell, counted from the left edge of the films.</param>
/// <param name="CellWidth">Film pixels across a cell.</param>
/// <param name="Whole">Whether the tile's ready sums pay.</param>
internal readonly record struct View(int Left, int Width, int CellWidth, int CellHeight, bool Whole);

/// <summary>
/// Prints bands of rows: film bits, register, lost dots, growth, then codes summed over cells. One a thread, with its own
/// planes; after the first band it allocates only what the kernels need for a row.
/// </summary>
internal sealed class BandRenderer
{
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
    private readonly BitPlane _eroded;
    private readonly BitPlane _kept;
    private readonly BitPlane _grown;
    private readonly BitPlane _grownOnBase;
    private readonly BitPlane _base;
    private readonly CodeCells _cells;
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
        _landed = new(width, landed);
        _core = new(width, kept + 2 * press.RegrowRows);
        _eroded = new(width, _core.Height);
        _kept = new(width, kept);
        _grown = new(width, height + 2);
        _grownOnBase = new(width, height + 2);
        _base = new(width, height);
        _cells = new(_printed, press.Table, tile, view.Whole);
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
            SumRow(row, top + row);
            Spread(row, target, targetX);
        }
    }

    private void PrintBits(int top)
    {
        for (var k = 0; k < _printed.Length; k++)
        {
            var screen = _press.Screens[k];
            var landedTop = top - _press.SpreadRows - _press.LostRows;
            var (first, _) = _shifts[k].FilmRows(landedTop, _landed.Height, _landed.Width);
            screen.Film.ReadRows(first, _film);
            _shifts[k].Fetch(_film, first, _landed, landedTop);
            screen.LostDots.Print(_landed, _kept, _core, _eroded, top - _press.SpreadRows, screen.PlateIndex);
            screen.Spread.Spread(_kept, BaseBelow(screen.BasesBelow), _printed[k], _grown, _grownOnBase, top);
        }
    }

    private BitPlane? BaseBelow(int bases)
    {
        BitPlane? below = null;
        for (var k = 0; bases >> k != 0; k++)
        {
            if ((bases >> k & 1) == 0)
                continue;
            if (below is null)
            {
                below = _printed[k];
                continue;
            }
            if (below != _base)
                below.Words.CopyTo(_base.Words, 0);
            below = _base;
            BitRows.Or(_base.Words, _printed[k].Words);
        }
        return below;
    }

    private void SumRow(int row, int y)
    {
        for (var x = 0; x < _view.Width; )
        {
            var (tileX, tileY, run) = TileAt(_view.Left + x, y);
            run = Math.Min(run, _view.Width - x);
            _cells.Sum(
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
    }
}
