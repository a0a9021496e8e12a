using System.Collections.Immutable;

namespace ProofDesk.Printing.Garments;

/// <summary>The side of a garment that a picture shows.</summary>
public enum GarmentSide
{
    Front,
    Back,
}

/// <summary>
/// A length in mm as a sum of measures of a size: constant + coefficients x (chest, length, shoulder, sleeve, collar,
/// drop front, drop back). Grading a garment is evaluating the same form with another size.
/// </summary>
public readonly record struct GradedLength(
    double Mm,
    double Chest,
    double Length,
    double Shoulder,
    double Sleeve,
    double Collar,
    double DropFront,
    double DropBack
)
{
    public double Of(GarmentSize size) =>
        Mm
        + Chest * size.ChestMm
        + Length * size.LengthMm
        + Shoulder * size.ShoulderMm
        + Sleeve * size.SleeveLengthMm
        + Collar * size.CollarWidthMm
        + DropFront * size.CollarDropFrontMm
        + DropBack * size.CollarDropBackMm;
}

/// <summary>A point of the drawing: origin at the middle of the collar seam of the side shown, x to the right, y down.</summary>
public readonly record struct GradedPoint(GradedLength X, GradedLength Y)
{
    public (double X, double Y) Of(GarmentSize size) => (X.Of(size), Y.Of(size));
}

/// <summary>A path: a start, then cubic Bezier segments of three points each (a straight line has its controls on it).</summary>
public sealed record GradedPath(GradedPoint Start, ImmutableArray<GradedPoint> CubicPoints, bool Closed)
{
    /// <summary>The path as points no further apart than about <paramref name="stepMm"/>.</summary>
    public (double X, double Y)[] Flatten(GarmentSize size, double stepMm)
    {
        var points = new List<(double X, double Y)> { Start.Of(size) };
        for (var i = 0; i + 2 < CubicPoints.Length; i += 3)
        {
            var (p0, p1) = (points[^1], CubicPoints[i].Of(size));
            var (p2, p3) = (CubicPoints[i + 1].Of(size), CubicPoints[i + 2].Of(size));
            var length = Distance(p0, p1) + Distance(p1, p2) + Distance(p2, p3);
            var steps = Math.Max(1, (int)Math.Ceiling(length / stepMm));
            for (var s = 1; s <= steps; s++)
                points.Add(Cubic(p0, p1, p2, p3, (double)s / steps));
        }
        return [.. points];
    }

    private static double Distance((double X, double Y) a, (double X, double Y) b) =>
        Math.Sqrt((a.X - b.X) * (a.X - b.X) + (a.Y - b.Y) * (a.Y - b.Y));

    private static (double X, double Y) Cubic(
        (double X, double Y) a,
        (double X, double Y) b,
        (double X, double Y) c,
        (double X, double Y) d,
        double t
    )
    {
        var u = 1 - t;
        var (wa, wb, wc, wd) = (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t);
        return (wa * a.X + wb * b.X + wc * c.X + wd * d.X, wa * a.Y + wb * b.Y + wc * c.Y + wd * d.Y);
    }
}

/// <summary>What a piece of the drawing is made of.</summary>
public enum PieceKind
{
    /// <summary>The cloth of the body or a sleeve: inflated and folded.</summary>
    Cloth,

    /// <summary>Ribbed trim (collar).</summary>
    Rib,

    /// <summary>The inside of the garment seen through the neck: cloth in shadow.</summary>
    Inside,
}

/// <summary>A piece of cloth with a closed outline; pieces are drawn in order, later ones on top.</summary>
/// <param name="Puff">How far the piece is inflated at its thickest, mm.</param>
public sealed record GarmentPiece(string Name, PieceKind Kind, double PuffMm, GradedPath Outline);

/// <summary>A seam or line of stitches.</summary>
/// <param name="Stitches">0 = a seam groove only; 1 or 2 = rows of stitches 3 mm apart.</param>
public sealed record GarmentSeam(string Name, int Stitches, GradedPath Line);

/// <summary>A fold of the resting cloth: a ridge along a line, fading at both ends.</summary>
public sealed record GarmentFold(double HeightMm, double WidthMm, GradedPath Line);

/// <summary>The drawing of one side.</summary>
public sealed record GarmentView(
    GarmentSide Side,
    ImmutableArray<GarmentPiece> Pieces,
    ImmutableArray<GarmentSeam> Seams,
    ImmutableArray<GarmentFold> Folds
);

/// <summary>Where each place's tape measure starts on a side, mm in the drawing of that side.</summary>
/// <param name="Place">Named place.</param>
/// <param name="Seam">The point that the tape starts from (collar seam, or middle of the sleeve hem).</param>
/// <param name="DegreesFromUpright">Rotation of the place's own upright, clockwise, for sleeves.</param>
/// <param name="Up">True when the tape runs up from the seam to the bottom edge (sleeves), false when it runs down to the top edge.</param>
public sealed record PlaceAnchor(
    Artworks.Place Place,
    GarmentSide Side,
    GradedPoint Seam,
    double DegreesFromUpright,
    bool Up
);

/// <summary>The drawing of a garment, both sides.</summary>
public sealed record GarmentShape(ImmutableArray<GarmentView> Views, ImmutableArray<PlaceAnchor> Places)
{
    public GarmentView? View(GarmentSide side) => Views.FirstOrDefault(v => v.Side == side);

    public PlaceAnchor? Anchor(Artworks.Place place) => Places.FirstOrDefault(p => p.Place == place);
}
