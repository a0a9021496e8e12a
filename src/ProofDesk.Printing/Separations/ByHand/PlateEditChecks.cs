using System.Collections.Immutable;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>A number of a change by hand that no film can have.</summary>
/// <param name="Field">Name of the field in the file, e.g. "spreadUm".</param>
/// <param name="What">What is wrong, given and limit.</param>
public sealed record PlateEditProblem(string Field, string What);

/// <summary>The limits of every number, the same for a file and for a page.</summary>
public static class PlateEditChecks
{
    public const double MostSpreadUm = 500;
    public const double LeastLinesPerInch = 10;
    public const double MostLinesPerInch = 150;

    /// <summary>Stochastic dots of 60 um, the smallest that cloth is said to hold ([PHYSICS] 1.13).</summary>
    public const double MostDotsPerInch = 425;
    public const int MostStrokes = 4;
    public const int MostKeepOuts = 40;
    private const double LargestMm = 2000;

    /// <summary>Everything wrong with a change, in the order of the fields.</summary>
    public static ImmutableArray<PlateEditProblem> Of(PlateEdit edit) =>
        [.. Wedge(edit), .. Numbers(edit), .. Places(edit)];

    private static IEnumerable<PlateEditProblem> Wedge(PlateEdit edit)
    {
        const string Field = "wedgePercent";
        var wedge = edit.Wedge;
        if (wedge.IsDefaultOrEmpty)
            yield break;
        if (wedge.Length != PlateEdit.WedgeSteps)
        {
            yield return new(
                Field,
                Text($"the wedge has {wedge.Length} steps, {PlateEdit.WedgeSteps} are needed (0, 10, ... 100 %)")
            );
            yield break;
        }
        for (var i = 0; i < wedge.Length; i++)
        {
            if (wedge[i] is not (>= 0 and <= 1))
                yield return new(
                    Field,
                    Text($"the wedge has {100 * wedge[i]:0.##} % at {10 * i} %, 0 to 100 % fit on a film")
                );
            if (i > 0 && wedge[i] < wedge[i - 1])
                yield return new(
                    Field,
                    Text(
                        $"the wedge falls from {100 * wedge[i - 1]:0.##} % at {10 * (i - 1)} % to {100 * wedge[i]:0.##} % at {10 * i} %; each step is at least as dark as the one before it"
                    )
                );
        }
    }

    private static IEnumerable<PlateEditProblem> Numbers(PlateEdit edit)
    {
        if (!(Math.Abs(edit.SpreadUm) <= MostSpreadUm))
            yield return new(
                "spreadUm",
                Text($"a spread of {edit.SpreadUm:0.##} um, {-MostSpreadUm} (choke) to {MostSpreadUm} um are possible")
            );
        if (edit.AngleDegrees is { } angle and not (>= 0 and <= 180))
            yield return new("angleDegrees", Text($"an angle of {angle:0.##} degrees, 0 to 180 are possible"));
        if (edit.LinesPerInch is { } lpi)
        {
            var dots = edit.Dot == DotShape.Stochastic;
            var most = dots ? MostDotsPerInch : MostLinesPerInch;
            if (!(lpi >= LeastLinesPerInch && lpi <= most))
                yield return new(
                    "linesPerInch",
                    dots
                        ? Text($"{lpi:0.##} stochastic dots per inch, {LeastLinesPerInch} to {most} are possible")
                        : Text($"a ruling of {lpi:0.##} lpi, {LeastLinesPerInch} to {most} are possible")
                );
        }
        if (edit.Mesh is { } mesh && Meshes.Parse(mesh) is null)
            yield return new(
                "mesh",
                $"'{mesh}' is no mesh; write threads per cm and thread in um, such as {string.Join(", ", Meshes.Default.Select(m => m.Label))}"
            );
        if (edit.Strokes is { } strokes and not (>= 1 and <= MostStrokes))
            yield return new("strokes", Text($"{strokes} strokes, 1 to {MostStrokes} are possible"));
    }

    private static IEnumerable<PlateEditProblem> Places(PlateEdit edit)
    {
        const string Field = "keepOut";
        if (edit.KeepOut.IsDefaultOrEmpty)
            yield break;
        if (edit.KeepOut.Length > MostKeepOuts)
            yield return new(Field, Text($"{edit.KeepOut.Length} rectangles, {MostKeepOuts} are the most"));
        for (var i = 0; i < edit.KeepOut.Length; i++)
        {
            var box = edit.KeepOut[i];
            if (box.XMm is not (>= 0 and <= LargestMm) || box.YMm is not (>= 0 and <= LargestMm))
                yield return new(
                    Field,
                    Text(
                        $"rectangle {i + 1} begins at {box.XMm:0.##}, {box.YMm:0.##} mm; both are measured from the print's top left corner, 0 to {LargestMm} mm"
                    )
                );
            if (box.WidthMm is not (> 0 and <= LargestMm) || box.HeightMm is not (> 0 and <= LargestMm))
                yield return new(
                    Field,
                    Text(
                        $"rectangle {i + 1} is {box.WidthMm:0.##} x {box.HeightMm:0.##} mm; both are more than 0 and at most {LargestMm} mm"
                    )
                );
        }
    }
}
