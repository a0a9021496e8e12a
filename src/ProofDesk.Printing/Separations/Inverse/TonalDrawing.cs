using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>Wanted tones of all plates from the art's pixels and the table.</summary>
internal static class TonalDrawing
{
    private const int RowsAtATime = 16;

    public static BytePlane[] Draw(RgbaRaster art, ArtCoverage coverage, SeparationTable table)
    {
        var planes = new BytePlane[table.Plates];
        for (var i = 0; i < planes.Length; i++)
            planes[i] = new(art.Width, art.Height);
        RowLoop.RunBands(
            art.Height,
            RowsAtATime,
            (top, count) =>
            {
                var positions = new ushort[3 * art.Width];
                var outputs = new byte[TetrahedralTable.Lanes * art.Width];
                for (var y = top; y < top + count; y++)
                {
                    if (coverage.Outline is not null && !coverage.AnyNear(y))
                        continue;
                    Locate(art, coverage, table, y, positions);
                    for (var i = 0; i < planes.Length; i++)
                    {
                        var lane = i % TetrahedralTable.Lanes;
                        if (lane == 0)
                            table.Tables[i / TetrahedralTable.Lanes].Row(positions, outputs);
                        Take(outputs, lane, planes[i].Row(y));
                    }
                    if (coverage.Outline is not null)
                        Fade(coverage, planes, y);
                }
            }
        );
        return planes;
    }

    private static void Locate(
        RgbaRaster art,
        ArtCoverage coverage,
        SeparationTable table,
        int y,
        Span<ushort> positions
    )
    {
        var row = art.Row(y);
        unchecked
        {
            for (var x = 0; x < art.Width; x++)
            {
                positions[3 * x] = table.Position(row[4 * x]);
                positions[3 * x + 1] = table.Position(row[4 * x + 1]);
                positions[3 * x + 2] = table.Position(row[4 * x + 2]);
            }
        }
        if (coverage.Outline is not { } outline)
            return;
        var inked = outline.Row(y);
        for (var x = 0; x < inked.Length; x++)
        {
            if (inked[x] != 0 || coverage.Neighbour(x, y) is not (>= 0 and var from))
                continue;
            for (var c = 0; c < 3; c++)
                positions[3 * x + c] = table.Position(art.Pixels[4 * from + c]);
        }
    }

    private static void Take(ReadOnlySpan<byte> outputs, int plate, Span<byte> row)
    {
        unchecked
        {
            for (var x = 0; x < row.Length; x++)
                row[x] = outputs[TetrahedralTable.Lanes * x + plate];
        }
    }

    private static void Fade(ArtCoverage coverage, BytePlane[] planes, int y)
    {
        var inked = coverage.Outline!.Row(y);
        for (var x = 0; x < inked.Length; x++)
        {
            var alpha = coverage.Fade?[x, y] ?? 255;
            if (inked[x] == 0 && coverage.Neighbour(x, y) < 0)
                alpha = 0;
            if (alpha == 255)
                continue;
            foreach (var plane in planes)
                plane[x, y] = (byte)((plane[x, y] * alpha + 127) / 255);
        }
    }
}
