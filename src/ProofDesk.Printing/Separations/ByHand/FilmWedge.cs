using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>A wedge as a tone curve: straight lines between its eleven steps.</summary>
internal static class FilmWedge
{
    /// <summary>What a film has that was made with this tone, both 0..1.</summary>
    public static double OnFilm(ImmutableArray<double> wedge, double made)
    {
        var at = Math.Clamp(made, 0, 1) * (PlateEdit.WedgeSteps - 1);
        var step = Math.Min(PlateEdit.WedgeSteps - 2, (int)at);
        return wedge[step] + (at - step) * (wedge[step + 1] - wedge[step]);
    }

    /// <summary>The plate written by the wedge; a solid that is to be lighter becomes a tone like any other.</summary>
    public static Plate On(Plate plate, ImmutableArray<double> wedge)
    {
        if (plate.Solid is { } solid && wedge[^1] < 1)
            plate = plate with
            {
                Tone = Full(plate, solid),
                Shape = plate.Shape is { } shape ? BytePlane.Larger(shape, solid) : null,
                Solid = null,
            };
        return plate with { Tone = Apply(plate.Tone, wedge) };
    }

    /// <summary>
    /// The tone with the solid in it. Painted art is cut out where solids stand, so the pixels of their edge are full as well: the
    /// outline, not a fading rim, ends them.
    /// </summary>
    private static BytePlane Full(Plate plate, BytePlane solid)
    {
        var tone = new BytePlane(plate.Tone.Width, plate.Tone.Height);
        for (var i = 0; i < tone.Pixels.Length; i++)
        {
            var open = plate.Shape is not { } shape || shape.Pixels[i] >= 128;
            var full = solid.Pixels[i] >= 128 || !open && solid.Pixels[i] > 0;
            tone.Pixels[i] = full ? (byte)255 : plate.Tone.Pixels[i];
        }
        return tone;
    }

    public static BytePlane Apply(BytePlane tone, ImmutableArray<double> wedge)
    {
        var table = new byte[256];
        for (var i = 0; i < 256; i++)
            table[i] = (byte)Math.Round(255 * OnFilm(wedge, i / 255.0), MidpointRounding.AwayFromZero);
        var changed = new BytePlane(tone.Width, tone.Height);
        RowLoop.Run(
            tone.Height,
            tone.Width,
            y =>
            {
                var from = tone.Row(y);
                var to = changed.Row(y);
                for (var x = 0; x < to.Length; x++)
                    to[x] = table[from[x]];
            }
        );
        return changed;
    }
}
