using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Inks;

/// <summary>The colour a client or a standard wants of a solid of this ink.</summary>
/// <param name="Lab">Relative to the white of <paramref name="Light"/>.</param>
/// <param name="ToleranceDe00">Largest CIEDE2000 that passes.</param>
public sealed record InkTarget(Lab Lab, double ToleranceDe00, ViewingLight Light)
{
    public const double LeastTolerance = 0.1;
    public const double MostTolerance = 20;

    /// <summary>Everything that is wrong with it, by the field it is in.</summary>
    public ImmutableArray<(string Field, string What)> Problems()
    {
        var found = ImmutableArray.CreateBuilder<(string, string)>();
        if (LabProblem(Lab) is { } problem)
            found.Add(("lab", problem));
        if (ToleranceDe00 is not (>= LeastTolerance and <= MostTolerance))
            found.Add(
                (
                    "tolerance",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{ToleranceDe00:0.###} dE00, {LeastTolerance} to {MostTolerance} is possible; 2 is usual"
                    )
                )
            );
        return found.ToImmutable();
    }

    /// <summary>Why no printed colour can have this Lab, or null.</summary>
    public static string? LabProblem(Lab lab)
    {
        string Says(string name, double value, int least, int most) =>
            string.Create(
                CultureInfo.InvariantCulture,
                $"{name} is {value:0.##}, {least} to {most} is possible; write L*, a*, b*"
            );
        return lab.L is not (>= 0 and <= 100) ? Says("L*", lab.L, 0, 100)
            : Math.Abs(lab.A) is not <= 128 ? Says("a*", lab.A, -128, 128)
            : Math.Abs(lab.B) is not <= 128 ? Says("b*", lab.B, -128, 128)
            : null;
    }
}
