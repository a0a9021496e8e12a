using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Tests.Methods;

/// <summary>
/// A tee of rectangles, so that a test knows where its seams are: body 300 x 360 mm below the collar seam, sleeves of 90 mm to
/// both sides down to 150 mm, one fold from the right underarm.
/// </summary>
internal static class PlainTee
{
    public const double HalfBodyMm = 150;
    public const double LengthMm = 360;
    public const double SleeveMm = 90;
    public const double UnderarmMm = 150;

    // First: the grounds below are made of it.
    public static Garment Garment { get; } =
        new(
            "plain-tee",
            "Plain tee",
            new Knit(0.8, 0.55, 0.5, 0.006),
            [new("L", 300, 360, 300, 90, 120, 60, 20)],
            [],
            new string('0', 64)
        )
        {
            Shape = new(
                [View(GarmentSide.Front), View(GarmentSide.Back)],
                [
                    new(Place.Front, GarmentSide.Front, default, 0, false),
                    new(Place.Back, GarmentSide.Back, default, 0, false),
                ]
            ),
        };

    public static Ground WhitePolyester { get; } = Of("White", ClothSpectra.WhitePolyester(), 1);
    public static Ground WhiteHalf { get; } = Of("White half", ClothSpectra.WhitePolyester(), 0.5);
    public static Ground WhiteCotton { get; } = Of("White cotton", ClothSpectra.UndyedCotton(), 0);
    public static Ground BlackPolyester { get; } = Of("Black", ClothSpectra.FromLab(new(17, 0.5, -1)), 1);

    public static Ground Of(string name, Spectrum reflectance, double polyester) =>
        new(
            Garment,
            new(
                name.ToLowerInvariant().Replace(' ', '-'),
                name,
                reflectance,
                [new(FibreKind.Polyester, polyester), new(FibreKind.Cotton, 1 - polyester)],
                0,
                null,
                DataClass.C,
                "drawn for tests"
            )
        );

    private static GarmentView View(GarmentSide side) =>
        new(
            side,
            [
                Piece("right sleeve", -HalfBodyMm - SleeveMm, 0, -HalfBodyMm + 10, UnderarmMm),
                Piece("left sleeve", HalfBodyMm - 10, 0, HalfBodyMm + SleeveMm, UnderarmMm),
                Piece("body", -HalfBodyMm, 0, HalfBodyMm, LengthMm),
            ],
            [
                new("right armhole", 0, Path(false, (-HalfBodyMm, 0), (-HalfBodyMm, UnderarmMm))),
                new("left armhole", 0, Path(false, (HalfBodyMm, 0), (HalfBodyMm, UnderarmMm))),
            ],
            [new(8, 15, Path(false, (-HalfBodyMm + 10, UnderarmMm + 10), (-60, 260)))]
        );

    private static GarmentPiece Piece(string name, double left, double top, double right, double bottom) =>
        new(
            name,
            PieceKind.Cloth,
            20,
            Path(true, (left, top), (right, top), (right, bottom), (left, bottom), (left, top))
        );

    private static GradedPath Path(bool closed, params (double X, double Y)[] points)
    {
        var cubic = ImmutableArray.CreateBuilder<GradedPoint>();
        for (var i = 1; i < points.Length; i++)
        {
            cubic.Add(Point(points[i - 1]));
            cubic.Add(Point(points[i]));
            cubic.Add(Point(points[i]));
        }
        return new(Point(points[0]), cubic.ToImmutable(), closed);
    }

    private static GradedPoint Point((double X, double Y) mm) => new(Mm(mm.X), Mm(mm.Y));

    private static GradedLength Mm(double mm) => new(mm, 0, 0, 0, 0, 0, 0, 0);
}
