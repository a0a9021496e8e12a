using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// Coverages of every plate for every colour of the art: a cube of sRGB codes, solved coarse first and finer from what
/// the coarser one found, so that neighbours agree; read by tetrahedral interpolation.
/// </summary>
internal sealed class SeparationTable
{
    /// <summary>Nodes a side: every eighth code.</summary>
    public const int Size = 33;

    private const int Coarsest = 5;

    /// <summary>Weight of squared distance from the neighbours' solution, in squared colour steps.</summary>
    private const double Pull = 1.5;

    /// <summary>Above this much left, ink included, a node is looked at again; and taken when so much better.</summary>
    private const double Missed = 9;
    private const double Better = 3;

    private readonly ushort[] _positions = new ushort[65536];

    private SeparationTable(TonalGround[] grounds, double[] weights, int plates, float[] values)
    {
        (Grounds, Weights, Plates) = (grounds, weights, plates);
        Tables =
        [
            .. Enumerable
                .Range(0, (plates + TetrahedralTable.Lanes - 1) / TetrahedralTable.Lanes)
                .Select(t => Part(values, plates, t * TetrahedralTable.Lanes)),
        ];
        for (var i = 0; i < _positions.Length; i++)
            _positions[i] = (ushort)Math.Round(Tables[0].Last * Srgb.Encode(i / 65535.0));
    }

    /// <summary>The grounds the plates were solved on.</summary>
    public TonalGround[] Grounds { get; }

    public double[] Weights { get; }
    public int Plates { get; }

    /// <summary>Each holds as many plates as it has lanes, in order.</summary>
    public TetrahedralTable[] Tables { get; }

    /// <summary>Position along an axis of 16-bit linear light.</summary>
    public ushort Position(ushort linear) => _positions[linear];

    /// <summary>Positions of the colour that art fades to; null where grounds differ, as one colour cannot be all of them.</summary>
    public ushort[]? Cloth()
    {
        if (Grounds.Length > 1)
            return null;
        var (l, a, b) = Grounds[0].Model.At(new float[Plates], new(Plates));
        var cloth = Grounds[0]
            .Gamut.ArtLikeCloth(new(l / PlateModel.Scale, a / PlateModel.Scale, b / PlateModel.Scale));
        return [Of(cloth.R), Of(cloth.G), Of(cloth.B)];
    }

    public static SeparationTable Solve(TonalGround[] grounds, double[] weights, TonalJob job)
    {
        var plates = job.Plates.Length;
        var costs = InkCosts.Of(job);
        CoverageSolver Solver() => new(grounds.Select(g => g.Model).ToArray(), weights, costs);
        var values = new float[Size * Size * Size * plates];
        for (var stride = (Size - 1) / (Coarsest - 1); stride >= 1; stride /= 2)
            SolveLevel(values, stride, grounds, plates, Solver);
        return new(grounds, weights, plates, values);
    }

    /// <summary>Coverages at a colour, interpolated as the pixels are.</summary>
    public void Coverages(LinearRgb colour, Span<float> coverages)
    {
        Span<byte> outputs = stackalloc byte[TetrahedralTable.Lanes];
        Span<ushort> at = [Of(colour.R), Of(colour.G), Of(colour.B)];
        for (var i = 0; i < Plates; i++)
        {
            if (i % TetrahedralTable.Lanes == 0)
                Tables[i / TetrahedralTable.Lanes].Row(at, outputs);
            coverages[i] = outputs[i % TetrahedralTable.Lanes] / 255f;
        }
    }

    private static TetrahedralTable Part(float[] values, int plates, int first)
    {
        var count = Math.Min(TetrahedralTable.Lanes, plates - first);
        var part = new float[values.Length / plates * count];
        for (var node = 0; node < values.Length / plates; node++)
            values.AsSpan(node * plates + first, count).CopyTo(part.AsSpan(node * count));
        return new(Size, count, part);
    }

    private ushort Of(double linear) => _positions[(int)Math.Round(65535 * Math.Clamp(linear, 0, 1))];

    private static void SolveLevel(
        float[] values,
        int stride,
        TonalGround[] grounds,
        int plates,
        Func<CoverageSolver> makeSolver
    )
    {
        var nodes = (Size - 1) / stride + 1;
        var coarsest = nodes == Coarsest;
        Parallel.For(
            0,
            nodes * nodes,
            () => (Solver: makeSolver(), Wanted: new double[3 * grounds.Length], At: new float[2 * plates]),
            (line, _, state) =>
            {
                var (r, g) = (line / nodes, line % nodes);
                for (var b = 0; b < nodes; b++)
                {
                    if (!coarsest && r % 2 == 0 && g % 2 == 0 && b % 2 == 0)
                        continue;
                    Target(grounds, Colour(r * stride, g * stride, b * stride), state.Wanted);
                    var at = state.At.AsSpan(0, plates);
                    var node = Node(values, r * stride, g * stride, b * stride, plates);
                    if (coarsest)
                        state.Solver.SolveAnew(at, state.Wanted, 60, 0);
                    else
                    {
                        var near = state.At.AsSpan(plates, plates);
                        Between(values, r, g, b, stride, plates, near);
                        near.CopyTo(at);
                        var left = state.Solver.Solve(at, state.Wanted, near, Pull, 10);
                        if (left > Missed)
                            Again(state.Solver, at, state.Wanted, left);
                    }
                    at.CopyTo(node);
                }
                return state;
            },
            _ => { }
        );
    }

    /// <summary>The way from the neighbours may end beside the best place: look anew where the colour was missed.</summary>
    private static void Again(CoverageSolver solver, Span<float> at, ReadOnlySpan<double> wanted, double left)
    {
        Span<float> anew = stackalloc float[at.Length];
        if (solver.SolveAnew(anew, wanted, 60, 0) < left - Better)
            anew.CopyTo(at);
    }

    /// <summary>Mean of the coarser nodes on both sides.</summary>
    private static void Between(float[] values, int r, int g, int b, int stride, int plates, Span<float> mean)
    {
        mean.Clear();
        var count = 0;
        for (var dr = -(r & 1); dr <= (r & 1); dr += 2)
        {
            for (var dg = -(g & 1); dg <= (g & 1); dg += 2)
            {
                for (var db = -(b & 1); db <= (b & 1); db += 2)
                {
                    var node = Node(values, (r + dr) * stride, (g + dg) * stride, (b + db) * stride, plates);
                    for (var i = 0; i < plates; i++)
                        mean[i] += node[i];
                    count++;
                    if ((b & 1) == 0)
                        break;
                }
                if ((g & 1) == 0)
                    break;
            }
            if ((r & 1) == 0)
                break;
        }
        foreach (ref var value in mean)
            value /= count;
    }

    private static void Target(TonalGround[] grounds, LinearRgb colour, Span<double> wanted)
    {
        for (var i = 0; i < grounds.Length; i++)
        {
            var (seen, _) = grounds[i].Gamut.Map(colour);
            (wanted[3 * i], wanted[3 * i + 1], wanted[3 * i + 2]) = (
                PlateModel.Scale * seen.L,
                PlateModel.Scale * seen.A,
                PlateModel.Scale * seen.B
            );
        }
    }

    private static LinearRgb Colour(int r, int g, int b) =>
        Srgb.Decode(r / (Size - 1.0), g / (Size - 1.0), b / (Size - 1.0));

    private static Span<float> Node(float[] values, int r, int g, int b, int plates) =>
        values.AsSpan(((r * Size + g) * Size + b) * plates, plates);
}
