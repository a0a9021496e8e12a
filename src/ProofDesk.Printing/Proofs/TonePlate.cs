using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// A plate as continuous tone, for devices that make the dots themselves: tone inside the outline, the outline's own
/// antialiasing at its edge, solids full.
/// </summary>
public static class TonePlate
{
    public static BytePlane Of(Plate plate)
    {
        var tone = Toned(plate);
        return plate.Solid is { } solid ? BytePlane.Larger(tone, solid) : tone;
    }

    private static BytePlane Toned(Plate plate)
    {
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
}
