using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>Wanted tones of all plates from the art's pixels and the table.</summary>
internal static class TonalDrawing
{
    private const int RowsAtATime = 16;

    /// <summary>Below this alpha a fade over cloth that the table only nearly meets loses its ink as well.</summary>
    private const int Thin = 64;

    /// <summary>Where a table is read for this art.</summary>
    /// <param name="cloth">Positions of the colour that art fades to, or null.</param>
    public static TableCells Cells(RgbaRaster art, ArtCoverage coverage, TablePositions positions, ushort[]? cloth) =>
        TableCells.Of(art.Width, art.Height, (y, row) => Locate(art, coverage, positions, cloth, y, row));

    public static BytePlane[] Draw(RgbaRaster art, ArtCoverage coverage, SeparationTable table, ushort[]? cloth)
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
                    if (!Locate(art, coverage, table.Positions, cloth, y, positions))
                        continue;
                    for (var i = 0; i < planes.Length; i++)
                    {
                        var lane = i % TetrahedralTable.Lanes;
                        if (lane == 0)
                            table.Tables[i / TetrahedralTable.Lanes].Row(positions, outputs);
                        Take(outputs, lane, planes[i].Row(y));
                    }
                    if (coverage.Outline is not null)
                        FadeOut(coverage, planes, y, Blends(coverage, cloth));
                }
            }
        );
        return planes;
    }

    private static bool Blends(ArtCoverage coverage, ushort[]? cloth) => coverage.Fade is not null && cloth is not null;

    /// <summary>Positions of the pixels of a row; false where nothing of it is inked.</summary>
    private static bool Locate(
        RgbaRaster art,
        ArtCoverage coverage,
        TablePositions positions,
        ushort[]? cloth,
        int y,
        Span<ushort> row
    )
    {
        if (coverage.Outline is { } outline)
        {
            if (!coverage.AnyNear(y))
                return false;
            positions.Row(art.Row(y), row);
            var inked = outline.Row(y);
            for (var x = 0; x < inked.Length; x++)
            {
                if (inked[x] != 0 || coverage.Neighbour(x, y) is not (>= 0 and var from))
                    continue;
                positions.Row(art.Pixels.AsSpan(4 * from, 4), row.Slice(3 * x, 3));
            }
        }
        else
            positions.Row(art.Row(y), row);
        if (Blends(coverage, cloth))
            FadeTo(cloth!, coverage.Fade!.Row(y), row);
        return true;
    }

    private static void Take(ReadOnlySpan<byte> outputs, int plate, Span<byte> row)
    {
        unchecked
        {
            for (var x = 0; x < row.Length; x++)
                row[x] = outputs[TetrahedralTable.Lanes * x + plate];
        }
    }

    /// <summary>
    /// Art that fades is blended with the cloth before its plates are looked up, in sRGB codes as drawing programs blend:
    /// scaling each plate instead would part colours from the base under them.
    /// </summary>
    private static void FadeTo(ushort[] cloth, ReadOnlySpan<byte> fade, Span<ushort> positions)
    {
        for (var x = 0; x < fade.Length; x++)
        {
            var alpha = fade[x];
            if (alpha == 255)
                continue;
            for (var c = 0; c < 3; c++)
                positions[3 * x + c] = (ushort)((positions[3 * x + c] * alpha + cloth[c] * (255 - alpha) + 127) / 255);
        }
    }

    private static void FadeOut(ArtCoverage coverage, BytePlane[] planes, int y, bool blended)
    {
        var inked = coverage.Outline!.Row(y);
        for (var x = 0; x < inked.Length; x++)
        {
            int alpha = coverage.Fade?[x, y] ?? 255;
            if (blended)
                alpha = Math.Min(255, alpha * 255 / Thin);
            if (inked[x] == 0 && coverage.Neighbour(x, y) < 0)
                alpha = 0;
            if (alpha == 255)
                continue;
            foreach (var plane in planes)
                plane[x, y] = (byte)((plane[x, y] * alpha + 127) / 255);
        }
    }
}
