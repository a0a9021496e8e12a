using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// From the cells of neighbouring rows to picture rows: light spreads in the cloth, the cloth tints and shades it, the
/// picture encodes it. One a thread.
/// </summary>
internal sealed class ClothRows
{
    private readonly PressSetUp _press;
    private readonly float[] _across;
    private readonly float[] _down;
    private readonly int _width;
    private readonly float[] _column;
    private readonly float[] _spread;
    private readonly float[] _tint;
    private readonly float[] _shade;
    private readonly float[][] _leaving;
    private readonly int[] _cellOf;
    private readonly float[] _shown;
    private readonly PictureColour? _parts;
    private readonly ulong[] _partsOutside = [];

    /// <param name="across">Weights of the spread across, over view cells; likewise down.</param>
    /// <param name="left">Leftmost column, in view cells from the films' left edge.</param>
    /// <param name="perCell">View cells across a picture cell: 1, or the film pixels under the loupe.</param>
    public ClothRows(
        PressSetUp press,
        float[] across,
        float[] down,
        int width,
        int left,
        int perCell,
        PictureColour colour
    )
    {
        (_press, _across, _down, _width, Colour) = (press, across, down, width, colour);
        _column = new float[width + across.Length - 1];
        _spread = new float[width];
        _tint = new float[width];
        _shade = new float[width];
        _leaving = [new float[width], new float[width], new float[width]];
        _cellOf = new int[width];
        _shown = press.Studio is null ? [] : new float[width];
        for (var x = 0; x < width; x++)
            _cellOf[x] = (int)Math.Floor((left + x) / (double)perCell);
        (Left, PerCell) = (left, perCell);
        if (press.Studio is not null)
            (_parts, _partsOutside) = (colour.Another(), new ulong[(width + 63) / 64]);
    }

    private int Left { get; }
    private int PerCell { get; }

    public PictureColour Colour { get; }

    /// <summary>
    /// Draws one row. <paramref name="row"/> names the bands and rows around it, middle = the row itself, as many as
    /// there are weights down.
    /// </summary>
    /// <param name="cellY">Row of the picture cell, from the top edge of the films.</param>
    /// <param name="parts">Where the picture's parts go that a worn garment lights anew; null = not wanted.</param>
    public void Draw(
        ReadOnlySpan<(BandRows Band, int Row)> row,
        int cellY,
        Span<byte> rgb,
        Span<ulong> outside,
        MirrorLayer? parts = null,
        int partRow = 0
    )
    {
        var middle = _down.Length / 2;
        var (band, here) = row[middle];
        Texture(band.InkRow(here), cellY);
        for (var c = 0; c < 3; c++)
        {
            SumDown(row, c);
            FloatRows.Slide(_spread, _column, _across);
            if (_press.Texture.IsHeather)
                Tint(c, cellY);
            else if (c == 0)
                _tint.AsSpan().Fill(1);
            FloatRows.Leave(_leaving[c], band.SurfaceRow(c, here), band.RootRow(c, here), _spread, _tint, _shade);
        }
        if (_press.Table.HasHeights)
            EdgeLight.Fall(row, 1000 * _press.Scale.CellMm / PerCell, _leaving);
        if (_press.Studio is { } studio)
            Mirror(studio, band, here, cellY, parts, partRow);
        Colour.Encode(_leaving[0], _leaving[1], _leaving[2], rgb, outside);
    }

    private void Mirror(StudioMirror studio, BandRows band, int row, int cellY, MirrorLayer? parts, int partRow)
    {
        if (parts is not null)
            _parts!.Encode(_leaving[0], _leaving[1], _leaving[2], parts.Matt.Row(partRow), _partsOutside);
        if (!band.HasMirrors)
            return;
        var cellMm = _press.Scale.CellMm;
        studio.Row(Left, cellMm / PerCell, (cellY + 0.5) * cellMm, _shown);
        for (var x = 0; x < _width; x++)
            _shown[x] *= _shade[x];
        for (var c = 0; c < 3; c++)
        {
            var leaving = _leaving[c];
            var mirror = band.MirrorRow(c, row);
            for (var x = 0; x < leaving.Length; x++)
                leaving[x] += mirror[x] * _shown[x];
        }
        if (parts is not null)
            _parts!.Encode(
                band.MirrorRow(0, row),
                band.MirrorRow(1, row),
                band.MirrorRow(2, row),
                parts.Specular.Row(partRow),
                _partsOutside
            );
    }

    private void SumDown(ReadOnlySpan<(BandRows Band, int Row)> row, int channel)
    {
        var middle = _down.Length / 2;
        FloatRows.Scale(_column, row[middle].Band.WideRootRow(channel, row[middle].Row), _down[middle]);
        for (var i = 1; i <= middle; i++)
        {
            var (above, below) = (row[middle - i], row[middle + i]);
            FloatRows.AddScaled(_column, above.Band.WideRootRow(channel, above.Row), _down[middle + i]);
            FloatRows.AddScaled(_column, below.Band.WideRootRow(channel, below.Row), _down[middle + i]);
        }
    }

    private void Texture(ReadOnlySpan<float> ink, int cellY)
    {
        if (PerCell == 1)
        {
            _press.Texture.Shade(Left, cellY, ink, _shade);
            return;
        }
        // Under the loupe shade is the same within a picture cell.
        for (var x = 0; x < _width; x++)
            _press.Texture.Shade(_cellOf[x], cellY, ink.Slice(x, 1), _shade.AsSpan(x, 1));
    }

    private void Tint(int channel, int cellY)
    {
        if (PerCell == 1)
            _press.Texture.Tint(channel, Left, cellY, _tint);
        else
            for (var x = 0; x < _width; x++)
                _press.Texture.Tint(channel, _cellOf[x], cellY, _tint.AsSpan(x, 1));
    }
}
