using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// Coverages of every plate for every colour of the art: a cube of sRGB codes, solved coarse first and finer from what
/// the coarser one found, so that neighbours agree; read by tetrahedral interpolation.
/// </summary>
internal sealed record SeparationTable
{
    /// <summary>Nodes a side: every eighth code.</summary>
    public const int Size = 33;

    /// <summary>Cells a side.</summary>
    public const int Cells = Size - 1;

    private const int Coarsest = 5;

    /// <summary>Weight of squared distance from the neighbours' solution, in squared colour steps.</summary>
    private const double Pull = 1.5;

    /// <summary>
    /// The same while a level is smoothed: where one mix of inks gives way to another, the change is spread over so many nodes that
    /// it cannot be seen. Most of it goes where the colour does not notice, as there are more plates than colours have dimensions.
    /// </summary>
    private const double SmoothPull = 12;

    /// <summary>Each node is drawn to the mean of those around so often, on the coarsest level first.</summary>
    private const int Sweeps = 3;

    /// <summary>Above this much left, ink included, a node is looked at again; and taken when so much better.</summary>
    private const double Missed = 9;
    private const double Better = 3;

    /// <summary>Coverages that differ by no more than this from the mean around are left as they are.</summary>
    private const float AlreadySmooth = 0.01f;

    private SeparationTable(
        TonalGround[] grounds,
        double[] weights,
        int plates,
        float[] values,
        TablePositions positions
    )
    {
        Positions = positions;
        (Grounds, AllGrounds, Weights, Plates) = (grounds, grounds, weights, plates);
        Tables =
        [
            .. Enumerable
                .Range(0, (plates + TetrahedralTable.Lanes - 1) / TetrahedralTable.Lanes)
                .Select(t => Part(values, plates, t * TetrahedralTable.Lanes)),
        ];
    }

    /// <summary>The grounds the plates were solved on.</summary>
    public TonalGround[] Grounds { get; }

    /// <summary>All grounds of the job, in its order.</summary>
    public TonalGround[] AllGrounds { get; init; }

    public double[] Weights { get; }
    public int Plates { get; }

    /// <summary>Each holds as many plates as it has lanes, in order.</summary>
    public TetrahedralTable[] Tables { get; }

    /// <summary>Where light stands along an axis.</summary>
    public TablePositions Positions { get; }

    /// <summary>Positions of the colour that art fades to; null where grounds differ, as one colour cannot be all of them.</summary>
    public static ushort[]? Cloth(TonalGround[] grounds, TablePositions positions)
    {
        if (grounds.Length > 1)
            return null;
        var plates = grounds[0].Model.Plates;
        var (l, a, b) = grounds[0].Model.At(new float[plates], new(plates));
        var cloth = grounds[0]
            .Gamut.ArtLikeCloth(new(l / PlateModel.Scale, a / PlateModel.Scale, b / PlateModel.Scale));
        return [positions.Of(cloth.R), positions.Of(cloth.G), positions.Of(cloth.B)];
    }

    /// <param name="cells">
    /// Where the table will be read; elsewhere it holds what lies between nodes that were solved, of each eighth, fourth or second.
    /// </param>
    public static SeparationTable Solve(
        TonalGround[] grounds,
        double[] weights,
        TonalJob job,
        TableCells cells,
        TablePositions positions
    )
    {
        var plates = job.Plates.Length;
        var costs = InkCosts.Of(job);
        CoverageSolver Solver() => new(grounds.Select(g => g.Model).ToArray(), weights, costs);
        var values = new float[Size * Size * Size * plates];
        for (var stride = Cells / (Coarsest - 1); stride >= 1; stride /= 2)
        {
            var solved = cells.Nodes(stride, beside: stride > 1);
            SolveLevel(values, stride, solved, grounds, plates, Solver);
            for (var sweep = 0; sweep < Sweeps; sweep++)
            for (var parity = 0; parity < 2; parity++)
                Smooth(values, stride, parity, solved, grounds, plates, Solver);
        }
        return new(grounds, weights, plates, values, positions);
    }

    /// <summary>Coverages at a colour, interpolated as the pixels are.</summary>
    public void Coverages(LinearRgb colour, Span<float> coverages)
    {
        Span<byte> outputs = stackalloc byte[TetrahedralTable.Lanes];
        Span<ushort> at = [Positions.Of(colour.R), Positions.Of(colour.G), Positions.Of(colour.B)];
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

    private static void SolveLevel(
        float[] values,
        int stride,
        bool[] solved,
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
                    var node = Node(values, r * stride, g * stride, b * stride, plates);
                    if (!coarsest && !solved[line * nodes + b])
                    {
                        Between(values, r, g, b, stride, plates, node);
                        continue;
                    }
                    Target(grounds, Colour(r * stride, g * stride, b * stride), state.Wanted);
                    var at = state.At.AsSpan(0, plates);
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

    /// <summary>
    /// Nodes of one parity have only neighbours of the other, so each sweep is two halves whose nodes do not wait for each other and
    /// come out the same in any order.
    /// </summary>
    private static void Smooth(
        float[] values,
        int stride,
        int parity,
        bool[] solved,
        TonalGround[] grounds,
        int plates,
        Func<CoverageSolver> makeSolver
    )
    {
        var nodes = (Size - 1) / stride + 1;
        Parallel.For(
            0,
            nodes * nodes,
            () => (Solver: makeSolver(), Wanted: new double[3 * grounds.Length], At: new float[2 * plates]),
            (line, _, state) =>
            {
                var (r, g) = (line / nodes, line % nodes);
                var at = state.At.AsSpan(0, plates);
                var near = state.At.AsSpan(plates, plates);
                for (var b = (r + g + parity) % 2; b < nodes; b += 2)
                {
                    if (!solved[line * nodes + b])
                        continue;
                    Around(values, r, g, b, stride, plates, near);
                    var node = Node(values, r * stride, g * stride, b * stride, plates);
                    if (IsNear(node, near))
                        continue;
                    Target(grounds, Colour(r * stride, g * stride, b * stride), state.Wanted);
                    node.CopyTo(at);
                    state.Solver.Solve(at, state.Wanted, near, SmoothPull, 6);
                    at.CopyTo(node);
                }
                return state;
            },
            _ => { }
        );
    }

    private static bool IsNear(ReadOnlySpan<float> one, ReadOnlySpan<float> other)
    {
        for (var i = 0; i < one.Length; i++)
            if (Math.Abs(one[i] - other[i]) > AlreadySmooth)
                return false;
        return true;
    }

    /// <summary>Mean of the nodes beside this one. At a face of the cube only ways with both ends count, or it would be drawn inwards.</summary>
    private static void Around(float[] values, int r, int g, int b, int stride, int plates, Span<float> mean)
    {
        mean.Clear();
        var last = (Size - 1) / stride;
        var count = 0;
        ReadOnlySpan<(int R, int G, int B)> ways = [(1, 0, 0), (0, 1, 0), (0, 0, 1)];
        foreach (var way in ways)
        {
            var at = r * way.R + g * way.G + b * way.B;
            if (at == 0 || at == last)
                continue;
            for (var side = -1; side <= 1; side += 2)
            {
                var node = Node(
                    values,
                    (r + side * way.R) * stride,
                    (g + side * way.G) * stride,
                    (b + side * way.B) * stride,
                    plates
                );
                for (var i = 0; i < plates; i++)
                    mean[i] += node[i];
                count++;
            }
        }
        if (count == 0)
            Node(values, r * stride, g * stride, b * stride, plates).CopyTo(mean);
        else
            foreach (ref var value in mean)
                value /= count;
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

    internal static void Target(TonalGround[] grounds, LinearRgb colour, Span<double> wanted)
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
