using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>Wanted tones of all plates from the art's pixels and the table.</summary>
internal static class TonalDrawing
{
    private const int RowsAtATime = 16;

    /// <summary>Below this alpha a fade over cloth that the table only nearly meets loses its ink as well.</summary>
    private const int Thin = 64;

    public static BytePlane[] Draw(RgbaRaster art, ArtCoverage coverage, SeparationTable table)
    {
        var planes = new BytePlane[table.Plates];
        for (var i = 0; i < planes.Length; i++)
            planes[i] = new(art.Width, art.Height);
        var cloth = coverage.Fade is null ? null : table.Cloth();
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
                    if (cloth is not null)
                        FadeTo(cloth, coverage.Fade!.Row(y), positions);
                    for (var i = 0; i < planes.Length; i++)
                    {
                        var lane = i % TetrahedralTable.Lanes;
                        if (lane == 0)
                            table.Tables[i / TetrahedralTable.Lanes].Row(positions, outputs);
                        Take(outputs, lane, planes[i].Row(y));
                    }
                    if (coverage.Outline is not null)
                        FadeOut(coverage, planes, y, cloth is not null);
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
