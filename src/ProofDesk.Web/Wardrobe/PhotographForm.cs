using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Text;
using ProofDesk.Adapters.Garments;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Garments.Photographs;

namespace ProofDesk.Web.Wardrobe;

/// <summary>Where a picture that is a button was pressed, pixels of the picture as shown.</summary>
public sealed class PressedAt
{
    public int? X { get; set; }
    public int? Y { get; set; }
}

/// <summary>
/// What is drawn on a photograph, percent of its width and height. All of it is in the address: the page keeps nothing, the back button
/// takes a point back, and it works without script.
/// </summary>
public class PhotographForm
{
    public const string Areas = "area";

    /// <summary>What the next press on the picture sets, in the order it is asked for.</summary>
    public static ImmutableArray<(string Id, string Words)> Points { get; } =
    [
        ("a", "tape: one end"),
        ("b", "tape: other end"),
        ("c", "second tape: one end"),
        ("d", "second tape: other end"),
        ("s", "middle of the collar seam"),
        ("e", "centre line, near the hem"),
        (Areas, "the next corner of the garment"),
    ];

    /// <summary>Widths the picture is shown at, px: a picture that is a button must not be stretched, or the point is another.</summary>
    public static ImmutableArray<int> Widths { get; } = [340, 640, 960];

    public double? Ax { get; set; }
    public double? Ay { get; set; }
    public double? Bx { get; set; }
    public double? By { get; set; }
    public double? Mm { get; set; }
    public double? Cx { get; set; }
    public double? Cy { get; set; }
    public double? Dx { get; set; }
    public double? Dy { get; set; }
    public double? Mm2 { get; set; }
    public double? Sx { get; set; }
    public double? Sy { get; set; }
    public double? Ex { get; set; }
    public double? Ey { get; set; }

    [StringLength(4000)]
    public string? Area { get; set; }

    /// <summary>Null or 0: all of the area is cloth.</summary>
    public double? Tolerance { get; set; } = PhotoMask.UsualTolerance;
    public string Next { get; set; } = "a";
    public int Show { get; set; } = 640;
    public PressedAt At { get; set; } = new();
    public bool Undo { get; set; }

    public int ShownWidth => Widths.Contains(Show) ? Show : 640;

    public ImmutableArray<(double X, double Y)> Corners(out string? wrong) =>
        PhotoPoints.Percent(Area, out wrong) ?? [];

    /// <summary>Sets the point that was pressed and asks for the one after it.</summary>
    public void Press(double shownHeight)
    {
        if (Undo)
            Area = PhotoPoints.Text(Corners(out _).SkipLast(1));
        if (At is { X: { } px, Y: { } py })
            Set(Percent(px, ShownWidth), Percent(py, shownHeight));
    }

    private void Set(double x, double y)
    {
        switch (Next)
        {
            case "a":
                (Ax, Ay) = (x, y);
                break;
            case "b":
                (Bx, By) = (x, y);
                break;
            case "c":
                (Cx, Cy) = (x, y);
                break;
            case "d":
                (Dx, Dy) = (x, y);
                break;
            case "s":
                (Sx, Sy) = (x, y);
                break;
            case "e":
                (Ex, Ey) = (x, y);
                break;
            default:
                Area = PhotoPoints.Text(Corners(out _).Append((x, y)));
                return;
        }
        Next = Points[Math.Min(Points.Length - 1, Points.Select(p => p.Id).ToList().IndexOf(Next) + 1)].Id;
    }

    /// <summary>What is still missing, in words; nothing when it can be measured.</summary>
    public IEnumerable<string> Missing()
    {
        if (Ax is null || Ay is null || Bx is null || By is null)
            yield return "both ends of the tape";
        if (Mm is null)
            yield return "the millimetres between them";
        if (SecondTape is (true, false))
            yield return "the rest of the second tape: two ends and its millimetres";
        if (Sx is null || Sy is null)
            yield return "the middle of the collar seam";
        if (Ex is null || Ey is null)
            yield return "a second point of the centre line";
        if (Corners(out _).Length < 2)
            yield return "the corners of the garment: two of a rectangle, or all of them";
    }

    private (bool Begun, bool Whole) SecondTape
    {
        get
        {
            double?[] parts = [Cx, Cy, Dx, Dy, Mm2];
            return (parts.Any(p => p is not null), parts.All(p => p is not null));
        }
    }

    /// <summary>Null while something is missing.</summary>
    public PhotoMarks? Marks(RgbPicture photo)
    {
        if (Missing().Any() || Corners(out var wrong) is not { Length: >= 2 } corners || wrong is not null)
            return null;
        PhotoPoint At(double? x, double? y) => PhotoPoints.Pixels(Within(x), Within(y), photo.Width, photo.Height);
        return new(
            new(At(Ax, Ay), At(Bx, By), Mm!.Value),
            SecondTape.Whole ? new(At(Cx, Cy), At(Dx, Dy), Mm2!.Value) : null,
            At(Sx, Sy),
            At(Ex, Ey),
            PhotoPoints.Area(corners, photo.Width, photo.Height),
            Tolerance is > 0 ? Math.Clamp(Tolerance.Value, 1, 100) : null
        );
    }

    /// <summary>The fields as they stand in the address, without what was pressed.</summary>
    public string Query()
    {
        var query = new StringBuilder("?");
        foreach (var (name, value) in Fields())
            query.Append(query.Length > 1 ? "&" : "").Append(name).Append('=').Append(Uri.EscapeDataString(value));
        return query.ToString();
    }

    /// <summary>Each field that says something, by its name.</summary>
    public IEnumerable<(string Name, string Value)> Fields()
    {
        (string Name, double? Value)[] numbers =
        [
            ("Ax", Ax),
            ("Ay", Ay),
            ("Bx", Bx),
            ("By", By),
            ("Mm", Mm),
            ("Cx", Cx),
            ("Cy", Cy),
            ("Dx", Dx),
            ("Dy", Dy),
            ("Mm2", Mm2),
            ("Sx", Sx),
            ("Sy", Sy),
            ("Ex", Ex),
            ("Ey", Ey),
            ("Tolerance", Tolerance ?? 0),
        ];
        foreach (var (name, value) in numbers)
            if (value is { } number)
                yield return (name, number.ToString("0.##", CultureInfo.InvariantCulture));
        if (!string.IsNullOrWhiteSpace(Area))
            yield return ("Area", Area);
        yield return ("Next", Next);
        yield return ("Show", ShownWidth.ToString(CultureInfo.InvariantCulture));
    }

    private static double Percent(double at, double whole) => Math.Clamp(Math.Round(100 * at / whole, 2), 0, 100);

    private static double Within(double? percent) => Math.Clamp(percent ?? 0, 0, 100);
}

/// <summary>The marks, and what the garment is: what the last button sends.</summary>
public sealed class PhotographedForm : PhotographForm
{
    [StringLength(80)]
    public string? Name { get; set; }
    public string Side { get; set; } = "front";

    [StringLength(20)]
    public string? Size { get; set; } = "L";

    [StringLength(80)]
    public string? Colour { get; set; }
    public string Cloth { get; set; } = "jersey";
    public double Cotton { get; set; } = 100;
    public double Polyester { get; set; }
    public double Viscose { get; set; }
    public double? L { get; set; }
    public double? A { get; set; }
    public double? B { get; set; }

    public ImmutableArray<FibreShare> Fibres =>
        [
            .. new[]
            {
                new FibreShare(FibreKind.Cotton, Cotton / 100),
                new FibreShare(FibreKind.Polyester, Polyester / 100),
                new FibreShare(FibreKind.Viscose, Viscose / 100),
            }.Where(f => f.Share > 0),
        ];
}
