using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Mixed;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// A plate as continuous tone, for devices that make the dots themselves: tone inside the outline, the outline's own
/// antialiasing at its edge, solids full.
/// </summary>
public static class TonePlate
{
    public static BytePlane Of(Plate plate)
    {
        if (plate.Solid is { } solid)
            return Around(plate, solid);
        if (plate.Shape is not { } shape)
            return plate.Tone;
        var tone = new BytePlane(plate.Tone.Width, plate.Tone.Height);
        for (var y = 0; y < tone.Height; y++)
        {
            var from = plate.Tone.Row(y);
            var within = shape.Row(y);
            var to = tone.Row(y);
            for (var x = 0; x < to.Length; x++)
                to[x] = (byte)((from[x] * within[x] + 127) / 255);
        }
        return tone;
    }

    /// <summary>Tone up to the very edge of a solid of the same plate: no seam stays open between the two.</summary>
    private static BytePlane Around(Plate plate, BytePlane solid)
    {
        var tone = new BytePlane(plate.Tone.Width, plate.Tone.Height);
        for (var i = 0; i < tone.Pixels.Length; i++)
            tone.Pixels[i] = SolidPlates.Within(plate.Tone.Pixels[i], plate.Shape?.Pixels[i] ?? 255, solid.Pixels[i]);
        return tone;
    }
}
