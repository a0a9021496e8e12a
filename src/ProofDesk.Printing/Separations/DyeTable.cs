using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// From the art's colour to four printed tones: a grid of 17 x 17 x 17 sRGB codes, solved along a path of neighbours,
/// read by tetrahedral interpolation ([KASSON-1995]). White of the art is the cloth and black of the art is the black
/// dye's solid, everything between scaled in light, so detail in the shadows of a pale print stays.
/// </summary>
internal sealed class DyeTable
{
    private const int Side = 17;
    private const int Inks = DyeTones.Dyes;

    private readonly float[] _tones = new float[Side * Side * Side * Inks];

    /// <summary>Grid position of a linear 16-bit value, 0..16.</summary>
    private static readonly float[] Position =
    [
        .. Enumerable.Range(0, 65536).Select(v => (float)(Srgb.Encode(v / 65535.0) * (Side - 1))),
    ];

    public DyeTable(DyeTones model)
    {
        Span<double> solid = stackalloc double[Inks];
        var white = model.Of(solid);
        solid[Inks - 1] = 1;
        var black = model.Of(solid);
        // One solver and one path for each plane of the grid, so the answer does not depend on who comes first.
        Parallel.For(
            0,
            Side,
            r =>
            {
                var solver = new DyeSolver(model);
                var tones = new double[Inks];
                tones.AsSpan(0, Inks - 1).Fill(0.3);
                for (var g = 0; g < Side; g++)
                {
                    for (var i = 0; i < Side; i++)
                    {
                        // There and back again: the next colour is always a neighbour, and its tones the first guess.
                        var b = (g & 1) == 0 ? i : Side - 1 - i;
                        Node(solver, white, black, r, g, b, tones);
                    }
                }
            }
        );
    }

    /// <summary>Printed tones of a colour given in linear 16-bit values over white.</summary>
    public void Of(int r, int g, int b, Span<float> tones)
    {
        var (x, y, z) = (Position[r], Position[g], Position[b]);
        var (i, j, k) = (Math.Min((int)x, Side - 2), Math.Min((int)y, Side - 2), Math.Min((int)z, Side - 2));
        var (fx, fy, fz) = (x - i, y - j, z - k);
        var (dx, dy, dz) = (Side * Side * Inks, Side * Inks, Inks);
        var at = i * dx + j * dy + k * dz;
        // The six tetrahedra: walk along the axes in the order of the fractions, largest first.
        var (first, second, third, f1, f2, f3) =
            fx >= fy
                ? fy >= fz
                    ? (dx, dy, dz, fx, fy, fz)
                    : fx >= fz
                        ? (dx, dz, dy, fx, fz, fy)
                        : (dz, dx, dy, fz, fx, fy)
                : fx >= fz
                    ? (dy, dx, dz, fy, fx, fz)
                    : fy >= fz
                        ? (dy, dz, dx, fy, fz, fx)
                        : (dz, dy, dx, fz, fy, fx);
        for (var ink = 0; ink < Inks; ink++)
        {
            var p = at + ink;
            tones[ink] =
                (1 - f1) * _tones[p]
                + (f1 - f2) * _tones[p + first]
                + (f2 - f3) * _tones[p + first + second]
                + f3 * _tones[p + first + second + third];
        }
    }

    private void Node(DyeSolver solver, Xyz white, Xyz black, int r, int g, int b, double[] tones)
    {
        var at = ((r * Side + g) * Side + b) * Inks;
        var art = Srgb.ToXyz(Srgb.Decode(r / (Side - 1.0), g / (Side - 1.0), b / (Side - 1.0)), ViewingLight.D50);
        var paper = Tristimulus.White(ViewingLight.D50);
        var target = Oklab.FromLinear(
            Srgb.FromXyz(
                new(
                    black.X + (white.X - black.X) * art.X / paper.X,
                    black.Y + (white.Y - black.Y) * art.Y / paper.Y,
                    black.Z + (white.Z - black.Z) * art.Z / paper.Z
                ),
                ViewingLight.D50
            )
        );
        // The ends are exact: a dot of a hundredth of a tone would already be a print, and black is the black dye alone.
        if (g == r && b == r && (r == 0 || r == Side - 1))
        {
            tones.AsSpan().Clear();
            tones[Inks - 1] = r == 0 ? 1 : 0;
        }
        else
            solver.Solve(target, tones);
        for (var ink = 0; ink < Inks; ink++)
            _tones[at + ink] = (float)tones[ink];
    }
}
