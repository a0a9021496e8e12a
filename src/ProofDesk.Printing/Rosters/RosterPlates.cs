using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Rosters;

/// <summary>Outlines become the plates of a method: one sheet, or a colour and its white backing.</summary>
internal static class RosterPlates
{
    /// <summary>Antialiased at ten pixels a millimetre: edges lie within a hundredth of a millimetre.</summary>
    public const double PixelsPerMm = 10;

    public static Separation Of(RosterPiece piece, PrintMethod method, Ground ground, Ink ink)
    {
        var shape = Draw(piece.Contours, piece.WidthMm, piece.HeightMm);
        var plates = Plates(shape, method, ink);
        return new(
            plates,
            [new(ground, [.. plates.Select((p, i) => new ScreenRun(i, true, p.Ink, 1, false, "names and numbers"))])],
            [],
            shape.Width / PixelsPerMm,
            shape.Height / PixelsPerMm,
            PixelsPerMm,
            []
        )
        {
            Press = method.Press,
            SheetsStacked = ink.Kind == InkKind.Sheet ? 1 : 0,
        };
    }

    /// <summary>Sheet or ink of a roster on a ground: white on dark cloth, black on pale, unless one was chosen.</summary>
    public static Ink InkFor(Roster roster, PrintMethod method, Ground ground)
    {
        if (roster.Style.Ink is { } chosen)
            return chosen;
        var cloth = CieLab.FromXyz(
            Tristimulus.Of(Brightener.Radiance(ground.Colour), ViewingLight.D50),
            ViewingLight.D50
        );
        var role = cloth.L > 60 ? InkRole.Black : InkRole.White;
        return InkLibrary.OfKind(method.ColourInk).First(i => i.Role == role);
    }

    public static BytePlane Draw(
        IEnumerable<ImmutableArray<(double X, double Y)>> contours,
        double widthMm,
        double heightMm
    )
    {
        var shape = new BytePlane(
            Math.Max(1, (int)Math.Ceiling(widthMm * PixelsPerMm)),
            Math.Max(1, (int)Math.Ceiling(heightMm * PixelsPerMm))
        );
        PolygonFill.Fill(
            shape,
            [.. contours.Select(c => c.Select(p => (p.X * PixelsPerMm, p.Y * PixelsPerMm)).ToArray())],
            FillRule.EvenOdd
        );
        return shape;
    }

    /// <summary>In the order they are pressed, or run on the carrier.</summary>
    public static ImmutableArray<Plate> Plates(BytePlane shape, PrintMethod method, Ink ink)
    {
        var solid = BytePlane.Filled(shape.Width, shape.Height, 255);
        Plate Made(string name, PlatePurpose purpose, Ink inked, Mesh mesh, BytePlane outline) =>
            new(name, purpose, inked, mesh, new(25, 22.5, DotShape.Elliptical), solid, outline, solid, 1, false);
        if (ink.Kind == InkKind.Sheet)
            return [Made(ink.Name, PlatePurpose.Sheet, ink, Mesh.None, shape)];
        var choked = Choke.Yielding(shape, new SpotSettings().ChokeMm, PixelsPerMm);
        return
        [
            Made(ink.Name, PlatePurpose.Spot, ink, Meshes.Find("48-70")!, shape),
            Made(
                "White backing",
                PlatePurpose.Base,
                InkLibrary.BaseWhite(InkKind.Plastisol),
                Meshes.Find("32-100")!,
                choked
            ),
        ];
    }
}
