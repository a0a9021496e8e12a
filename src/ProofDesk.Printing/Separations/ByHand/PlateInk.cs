namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>What a plate's film holds, counted on the plate.</summary>
internal static class PlateInk
{
    /// <summary>Ink on film, mm2: tones count by their coverage.</summary>
    public static double AreaMm2(Plate plate, double pixelsPerMm)
    {
        var sum = 0L;
        if (plate.Solid is { } solid)
        {
            for (var i = 0; i < solid.Pixels.Length; i++)
                sum +=
                    solid.Pixels[i] >= 128 ? byte.MaxValue
                    : plate.Shape is { } outline && outline.Pixels[i] < 128 ? 0
                    : plate.Tone.Pixels[i];
            return sum / 255.0 / (pixelsPerMm * pixelsPerMm);
        }
        for (var y = 0; y < plate.Tone.Height; y++)
        {
            var tone = plate.Tone.Row(y);
            if (plate.Shape is { } shape)
            {
                var inside = shape.Row(y);
                for (var x = 0; x < tone.Length; x++)
                    sum += inside[x] >= 128 ? tone[x] : 0;
            }
            else
                foreach (var value in tone)
                    sum += value;
        }
        return sum / 255.0 / (pixelsPerMm * pixelsPerMm);
    }

    /// <summary>
    /// Area inside the outline, mm2, of the pixels for which this holds; given are tone and wanted tone. What is solid whatever
    /// the tone says is left out.
    /// </summary>
    public static double AreaMm2(Plate plate, double pixelsPerMm, Func<byte, byte, bool> holds)
    {
        var table = new bool[256 * 256];
        for (var tone = 0; tone < 256; tone++)
        for (var wanted = 0; wanted < 256; wanted++)
            table[tone << 8 | wanted] = holds((byte)tone, (byte)wanted);
        var count = 0L;
        for (var y = 0; y < plate.Tone.Height; y++)
        {
            var tone = plate.Tone.Row(y);
            var wanted = plate.Wanted.Row(y);
            for (var x = 0; x < tone.Length; x++)
                if (
                    table[tone[x] << 8 | wanted[x]]
                    && (plate.Shape is null || plate.Shape[x, y] >= 128)
                    && !(plate.Solid is { } solid && solid[x, y] >= 128)
                )
                    count++;
        }
        return count / (pixelsPerMm * pixelsPerMm);
    }

    /// <summary>Tone of the film in a pixel: full where it is solid, nothing outside its outline.</summary>
    public static byte At(Plate plate, int x, int y) =>
        plate.Solid is { } solid && solid[x, y] >= 128 ? byte.MaxValue
        : plate.Shape is { } shape && shape[x, y] < 128 ? (byte)0
        : plate.Tone[x, y];

    /// <summary>It has dots somewhere inside its outline.</summary>
    public static bool HasTone(Plate plate) => AreaMm2(plate, 1, (tone, _) => tone is > 0 and < 255) > 0;
}
