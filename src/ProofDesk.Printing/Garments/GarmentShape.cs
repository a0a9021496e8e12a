using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments.Photographs;

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

    /// <summary>A zip: two tapes and a row of teeth down the middle of the piece.</summary>
    Zip,

    /// <summary>A drawcord, twisted.</summary>
    Cord,

    /// <summary>A handle: a flat band of the cloth that is not printed.</summary>
    Strap,

    /// <summary>Eyelets and zip pulls.</summary>
    Metal,
}

/// <summary>A piece of cloth with a closed outline; pieces are drawn in order, later ones on top.</summary>
/// <param name="PuffMm">How far the piece is inflated at its thickest, mm.</param>
public sealed record GarmentPiece(string Name, PieceKind Kind, double PuffMm, GradedPath Outline)
{
    /// <summary>Lies on the pieces below it and takes their shape (a pocket), instead of being a shape of its own.</summary>
    public bool OnTop { get; init; }

    /// <summary>Direction of the ribs, degrees clockwise from upright; null = they radiate from the middle of the neck.</summary>
    public double? RibDegrees { get; init; }
}

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
)
{
    /// <summary>What a print on this side should keep off.</summary>
    public ImmutableArray<GarmentObstacle> Obstacles { get; init; } = [];

    /// <summary>The shop's own photograph of this side, which its picture is then laid on; null = it is drawn.</summary>
    public GarmentPhotograph? Photograph { get; init; }
}

/// <summary>Where each place's tape measure starts on a side, mm in the drawing of that side.</summary>
/// <param name="Place">Named place.</param>
/// <param name="Seam">The point that the tape starts from (collar seam, or middle of the sleeve hem).</param>
/// <param name="DegreesFromUpright">Rotation of the place's own upright, clockwise, for sleeves.</param>
/// <param name="Up">True when the tape runs up from the seam to the bottom edge (sleeves), false when it runs down to the top edge.</param>
public sealed record PlaceAnchor(Place Place, GarmentSide Side, GradedPoint Seam, double DegreesFromUpright, bool Up)
{
    /// <summary>The usual tape measure on this garment, mm; null = that of an adult tee (<see cref="Placement.Usual"/>).</summary>
    public (double FromSeamMm, double FromCentreMm)? Usual { get; init; }

    /// <summary>Widest and highest print that lies flat here; null where nobody has said.</summary>
    public PrintArea? Area { get; init; }
}

/// <summary>The largest print at a place, graded with the size.</summary>
public sealed record PrintArea(GradedLength Width, GradedLength Height);

/// <summary>The drawing of a garment, both sides.</summary>
public sealed record GarmentShape(ImmutableArray<GarmentView> Views, ImmutableArray<PlaceAnchor> Places)
{
    // Outlines are flattened to steps of this length.
    private const double StepMm = 2;

    public GarmentView? View(GarmentSide side) => Views.FirstOrDefault(v => v.Side == side);

    /// <summary>Where the tape of a place starts, or null when the garment has no such place. Every side can be printed all over.</summary>
    public PlaceAnchor? Anchor(Place place) =>
        Places.FirstOrDefault(p => p.Place == place)
        ?? (
            place.IsAllOver() && View(place.Side()) is { } view
                ? new PlaceAnchor(place, view.Side, default, 0, false)
                : null
        );

    /// <summary>The usual tape measure of a place on this garment.</summary>
    public Placement Usual(Place place, double widthMm) =>
        Anchor(place)?.Usual is { } usual
            ? new(place, usual.FromSeamMm, usual.FromCentreMm, widthMm)
            : Placement.Usual(place, widthMm);

    /// <summary>
    /// The outer boundary of one side laid flat, sleeves, hood and ribs included, as one polygon: what an all-over print
    /// covers. Mm, origin at the middle of the collar seam of that side, x to the right of the picture, y down.
    /// </summary>
    public ImmutableArray<(double X, double Y)> PanelOutline(GarmentSize size, GarmentSide side) =>
        OutlineTrace.Of([.. Panels(size, side).Select(p => p.Outline.ToArray())]);

    /// <summary>The pieces of cloth and rib of one side, each with its whole outline, in the order they lie: what is cut and sewn.</summary>
    public ImmutableArray<GarmentPanel> Panels(GarmentSize size, GarmentSide side) =>
        [
            .. Side(side)
                .Pieces.Where(p => p.Kind is PieceKind.Cloth or PieceKind.Rib && !p.OnTop)
                .Select(p => new GarmentPanel(p.Name, p.Kind, [.. p.Outline.Flatten(size, StepMm)])),
        ];

    /// <summary>The seams of one side.</summary>
    public ImmutableArray<SeamLine> SeamLines(GarmentSize size, GarmentSide side) =>
        [.. Side(side).Seams.Select(s => new SeamLine(s.Name, s.Stitches, [.. s.Line.Flatten(size, StepMm)]))];

    /// <summary>The placement of a print that covers a whole side and reaches past its outline by a bleed.</summary>
    public Placement AllOver(GarmentSize size, GarmentSide side, double bleedMm)
    {
        var points = Panels(size, side).SelectMany(p => p.Outline).ToArray();
        return new(
            side == GarmentSide.Front ? Place.AllOverFront : Place.AllOverBack,
            points.Min(p => p.Y) - bleedMm,
            0,
            2 * (points.Max(p => Math.Abs(p.X)) + bleedMm)
        );
    }

    private GarmentView Side(GarmentSide side) =>
        View(side) ?? throw new ArgumentException($"there is no drawing of the {side.ToString().ToLowerInvariant()}");
}
