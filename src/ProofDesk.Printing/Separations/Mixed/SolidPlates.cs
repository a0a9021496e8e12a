using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>
/// Puts solids onto plates of painted art. Tones are knocked out where a solid stands; where the painting around it is the
/// lighter of the two its tones run on under the solid, where it is the darker the solid runs on under its dots, so that the white
/// below does not shine through the seam when the register is off. The base under solids is solid, drawn in from their edge;
/// in the strip between it goes on as the painting beside it has it.
/// </summary>
internal sealed class SolidPlates(
    TonalJob job,
    double pixelsPerMm,
    RgbaRaster rest,
    FlatArt solid,
    ImmutableArray<SolidInk> inks,
    BytePlane all
)
{
    private const byte Half = 128;

    private readonly double _trap = job.Settings.TrapMm * pixelsPerMm;
    private readonly double _choke = job.Settings.ChokeMm * pixelsPerMm;
    private readonly double[] _lightness = [.. solid.Colours.Select(c => Oklab.FromLinear(c.Linear).L)];

    public ImmutableArray<Plate> On(ImmutableArray<Plate> painted)
    {
        var distance = EdgeDistance.Of(all, Math.Max(_trap, _choke) + 2);
        var made = ImmutableArray.CreateBuilder<Plate>();
        for (var p = 0; p < painted.Length; p++)
            made.Add(On(painted, p, distance));
        return made.ToImmutable();
    }

    private Plate On(ImmutableArray<Plate> painted, int p, EdgeDistance distance)
    {
        var plate = painted[p];
        var shape = KnockedOut(plate, p, distance);
        var own = Solid(painted, p);
        var wanted = new BytePlane(all.Width, all.Height);
        RowLoop.Run(
            all.Height,
            all.Width * 2,
            y =>
            {
                var tone = plate.Wanted.Row(y);
                var open = shape.Row(y);
                var to = wanted.Row(y);
                for (var x = 0; x < to.Length; x++)
                    to[x] = own is null ? Within(tone[x], open[x], 0) : Within(tone[x], open[x], own[x, y]);
            }
        );
        return plate with
        {
            Shape = shape,
            Wanted = wanted,
            Solid = own,
            // Film tones follow from the painting alone: where its edge is cut they are as dark as beside it.
            Rule = plate.Rule is { } rule ? (_, screen, mesh, weak) => rule(plate.Wanted, screen, mesh, weak) : null,
        };
    }

    /// <summary>Ink in a pixel that a solid covers in part and a tone in the open part of the rest.</summary>
    internal static byte Within(byte tone, byte open, byte solid) =>
        (byte)(solid + (tone * Math.Min(open, 255 - solid) + 127) / 255);

    /// <summary>Where the tones of a plate may stand.</summary>
    private BytePlane KnockedOut(Plate plate, int p, EdgeDistance distance)
    {
        var isBase = plate.Purpose.IsBase;
        var reach = isBase ? _choke : _trap;
        var shape = new BytePlane(all.Width, all.Height);
        RowLoop.Run(
            all.Height,
            all.Width * 2,
            y =>
            {
                var hidden = all.Row(y);
                var to = shape.Row(y);
                if (plate.Shape is null)
                    to.Fill(255);
                else
                    plate.Shape.Row(y).CopyTo(to);
                for (var x = hidden.IndexOfAnyExcept((byte)0); x >= 0 && x < to.Length; x++)
                {
                    if (hidden[x] == 0)
                        continue;
                    var open = 255 - hidden[x];
                    if (RunsUnder(Main(x, y), p, isBase, x, y))
                        open = Math.Max(open, Grown(hidden[x], distance, x, y, reach));
                    to[x] = (byte)Math.Min(to[x], open);
                }
            }
        );
        return shape;
    }

    /// <summary>Whether tones of plate <paramref name="p"/> go on under the edge of a solid.</summary>
    private bool RunsUnder(int flat, int p, bool isBase, int x, int y)
    {
        var ink = inks[flat];
        if (ink.IsCloth || rest.Row(y)[4 * x + 3] < Half << 8)
            return false;
        if (isBase)
            return true;
        // White on top does not hide what is below it, and under it the base is white as well: nothing shines through.
        if (ink.Plates.All(i => job.Plates[i].IsWhite) || job.Plates[p].Purpose == PlatePurpose.HighlightWhite)
            return false;
        var last = ink.Plates[^1];
        return p < last && Painted(x, y) > _lightness[flat];
    }

    /// <summary>Coverage of the outside of the solids, grown into them.</summary>
    private static int Grown(byte hidden, EdgeDistance distance, int x, int y, double px)
    {
        var inside = hidden >= Half ? distance[x, y] : -distance[x, y];
        return (int)Math.Round(255 * Math.Clamp(px - inside + 0.5, 0, 1));
    }

    /// <summary>The solids of a plate; null where it has none.</summary>
    private BytePlane? Solid(ImmutableArray<Plate> painted, int p)
    {
        var plate = painted[p];
        var mine = Enumerable.Range(0, inks.Length).Where(i => inks[i].Plates.Contains(p)).ToArray();
        if (mine.Length == 0)
            return null;
        var own = Sum(mine);
        if (plate.Purpose.IsBase)
        {
            var white = mine.Where(i => inks[i].Plates.All(k => job.Plates[k].IsWhite)).ToArray();
            var choked = Choke.Yielding(own, job.Settings.ChokeMm, pixelsPerMm);
            return white.Length == 0 ? choked : BytePlane.Larger(choked, Sum(white));
        }
        if (plate.Purpose == PlatePurpose.HighlightWhite)
            return own;
        var over = Enumerable
            .Range(0, inks.Length)
            .Where(i =>
                !mine.Contains(i)
                && !inks[i].IsCloth
                && inks[i].Plates[^1] > p
                && !inks[i].Plates.All(k => job.Plates[k].IsWhite)
            )
            .ToArray();
        if (over.Length > 0)
            own = Traps.SpreadUnder(own, Sum(over), job.Settings.TrapMm, pixelsPerMm);
        return UnderTones(own, mine, painted, p);
    }

    /// <summary>A solid lighter than the painting beside it runs on under the dots printed later, where these cover most.</summary>
    private BytePlane UnderTones(BytePlane own, int[] mine, ImmutableArray<Plate> painted, int p)
    {
        var later = Enumerable
            .Range(p + 1, painted.Length - p - 1)
            .Where(k => !job.Plates[k].IsWhite)
            .Select(k => painted[k])
            .ToArray();
        if (later.Length == 0)
            return own;
        var lightness = mine.Max(i => _lightness[i]);
        var distance = EdgeDistance.Of(own, _trap + 1);
        return distance.Redrawn(
            own,
            (coverage, x, y) =>
            {
                if (all[x, y] >= Half || Painted(x, y) >= lightness)
                    return coverage;
                var cover = later.Max(k => k.Shape is { } shape && shape[x, y] < Half ? 0 : (int)k.Wanted[x, y]);
                return cover >= Half ? distance.Grown(coverage, x, y, _trap) : coverage;
            }
        );
    }

    /// <summary>The colour that has most of a pixel.</summary>
    private int Main(int x, int y)
    {
        var (best, most) = (0, -1);
        for (var i = 0; i < solid.Shares.Length; i++)
            if (solid.Shares[i][x, y] > most)
                (best, most) = (i, solid.Shares[i][x, y]);
        return best;
    }

    /// <summary>Lightness of the painting, carried on under the solids.</summary>
    private double Painted(int x, int y)
    {
        var p = rest.Row(y).Slice(4 * x, 3);
        return Oklab.FromLinear(new(p[0] / 65535.0, p[1] / 65535.0, p[2] / 65535.0)).L;
    }

    private BytePlane Sum(int[] which) =>
        PlateDrawing.Sum([.. which.Select(i => solid.Shares[i])], all.Width, all.Height);
}
