using System.Collections.Immutable;
using ProofDesk.Adapters.Garments;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Adapters.Tests.Garments;

/// <summary>Outline, panels and the worn picture of a print that covers a whole side.</summary>
public sealed class AllOverTests
{
    private const double PixelsPerMm = 0.5;
    private const double BorderMm = 30;
    private static readonly GarmentCatalogue Catalogue = GarmentCatalogue.Load(
        Path.Combine(GarmentCatalogueTests.RepositoryRoot(), "garments")
    );

    public static TheoryData<string, GarmentSide> Sides
    {
        get
        {
            var sides = new TheoryData<string, GarmentSide>();
            foreach (var garment in Catalogue.Garments)
            foreach (var side in Enum.GetValues<GarmentSide>())
                sides.Add(garment.Id, side);
            return sides;
        }
    }

    [Theory]
    [MemberData(nameof(Sides))]
    public void The_outline_encloses_every_piece_of_cloth_and_no_more(string id, GarmentSide side)
    {
        var garment = Catalogue.Find(id)!;
        foreach (var size in Looked(garment))
        {
            var outline = garment.Shape!.PanelOutline(size, side);
            var panels = garment.Shape.Panels(size, side).SelectMany(p => p.Outline).ToArray();

            Assert.Equal(panels.Min(p => p.X), outline.Min(p => p.X), 1.0);
            Assert.Equal(panels.Max(p => p.X), outline.Max(p => p.X), 1.0);
            Assert.Equal(panels.Min(p => p.Y), outline.Min(p => p.Y), 1.0);
            Assert.Equal(panels.Max(p => p.Y), outline.Max(p => p.Y), 1.0);
            Assert.All(panels, p => Assert.True(Inside(outline, p) || Distance(outline, p) < 1.5, $"{size.Size} {p}"));
        }
    }

    /// <summary>The smallest and the largest; all with PROOFDESK_LONG=1.</summary>
    private static ImmutableArray<GarmentSize> Looked(Garment garment) =>
        LongCounts.Asked ? garment.Sizes : [garment.Sizes[0], garment.Sizes[^1]];

    [Theory]
    [MemberData(nameof(Sides))]
    public void The_worn_picture_is_printed_all_over_and_only_inside_the_outline(string id, GarmentSide side)
    {
        var garment = Catalogue.Find(id)!;
        var size = garment.SizeOrMiddle("M");
        var ground = new Ground(garment, garment.Colour("white")!);
        var placement = garment.Shape!.AllOver(size, side, bleedMm: 15);
        var outline = garment.Shape.PanelOutline(size, side);
        var height = outline.Max(p => p.Y) - outline.Min(p => p.Y) + 30;

        var bare = WornGarment.Draw(ground, size.Size, side, [], ViewingLight.D65, PixelsPerMm, 1);
        var printed = WornGarment.Draw(
            ground,
            size.Size,
            side,
            [new(Sheet(ground, placement.WidthMm, height), placement)],
            ViewingLight.D65,
            PixelsPerMm,
            1
        );

        var (cloth, covered, outside) = (0, 0, 0);
        var top =
            garment.Shape.View(side)!.Pieces.SelectMany(p => p.Outline.Flatten(size, 10)).Min(p => p.Y) - BorderMm;
        var mask = new BytePlane(bare.Width, bare.Height);
        PolygonFill.Fill(
            mask,
            [
                [.. outline.Select(p => (p.X * PixelsPerMm + bare.Width / 2.0, (p.Y - top) * PixelsPerMm))],
            ]
        );
        for (var y = 0; y < bare.Height; y++)
        for (var x = 0; x < bare.Width; x++)
        {
            var i = (y * bare.Width + x) * 3;
            var changed = Math.Abs(bare.Pixels[i] - printed.Pixels[i]) > 12;
            var point = ((x + 0.5 - bare.Width / 2.0) / PixelsPerMm, top + (y + 0.5) / PixelsPerMm);
            var inside = mask[x, y] > 127;
            if (!inside && changed && Distance(outline, point) > 1.5 / PixelsPerMm)
                outside++;
            if (inside)
                (cloth, covered) = (cloth + 1, covered + (changed ? 1 : 0));
        }
        Assert.Equal(0, outside);
        // The inside of a neck or a hood, zips, cords and handles stay bare.
        Assert.InRange(covered / (double)cloth, id == "hoodie" && side == GarmentSide.Front ? 0.86 : 0.96, 1);
    }

    [Fact]
    public void The_usual_print_all_over_reaches_as_far_past_the_top_as_past_the_sides()
    {
        var tee = Catalogue.Find("tee")!;
        var outline = tee.Shape!.PanelOutline(tee.Size("L")!, GarmentSide.Back);
        var width = outline.Max(p => p.X) - outline.Min(p => p.X);

        var placement = tee.Usual(Place.AllOverBack, width + 40);

        Assert.Equal(outline.Min(p => p.Y) - 20, placement.FromSeamMm, 1.0);
        Assert.Equal((Place.AllOverBack, 0.0), (placement.Place, placement.FromCentreMm));
    }

    [Fact]
    public void Seams_come_in_mm_of_the_size_asked_for()
    {
        var tee = Catalogue.Find("tee")!;

        var small = Width("S");
        var large = Width("L");

        Assert.Equal(tee.Size("L")!.ChestMm - tee.Size("S")!.ChestMm, large - small, 0.5);

        double Width(string size)
        {
            var hem = tee.Shape!.SeamLines(tee.Size(size)!, GarmentSide.Front).Single(s => s.Name == "hem");
            return hem.Points.Max(p => p.X) - hem.Points.Min(p => p.X);
        }
    }

    [Fact]
    public void Panels_that_are_cut_keep_what_lies_under_the_next_piece()
    {
        var tee = Catalogue.Find("tee")!;
        var panels = tee.Shape!.Panels(tee.Size("L")!, GarmentSide.Front);

        var sleeve = panels.Single(p => p.Name == "left sleeve");
        var body = panels.Single(p => p.Name == "body");

        Assert.Contains(sleeve.Outline, p => Inside(body.Outline, p));
    }

    private static PrintedCloth Sheet(Ground ground, double widthMm, double heightMm)
    {
        const double ppm = 1;
        var (w, h) = ((int)(widthMm * ppm), (int)(heightMm * ppm));
        var picture = new RgbPicture(w, h, ppm);
        var ink = new BytePlane(w, h);
        Array.Fill(ink.Pixels, (byte)255);
        for (var i = 0; i < picture.Pixels.Length; i += 3)
            (picture.Pixels[i], picture.Pixels[i + 1], picture.Pixels[i + 2]) = (20, 90, 200);
        return new PrintedCloth(ground, Deposit.Expected, picture, ink, new BitPlane(w, h), 0, 0, 0, 1);
    }

    // Even-odd ray casting.
    private static bool Inside(IReadOnlyList<(double X, double Y)> polygon, (double X, double Y) point)
    {
        var inside = false;
        for (var i = 0; i < polygon.Count; i++)
        {
            var (a, b) = (polygon[i], polygon[(i + 1) % polygon.Count]);
            if (a.Y > point.Y != b.Y > point.Y && point.X < a.X + (point.Y - a.Y) / (b.Y - a.Y) * (b.X - a.X))
                inside = !inside;
        }
        return inside;
    }

    // The outline's points are no more than about 1.4 mm apart.
    private static double Distance(IReadOnlyList<(double X, double Y)> polygon, (double X, double Y) point) =>
        Math.Sqrt(polygon.Min(p => (p.X - point.X) * (p.X - point.X) + (p.Y - point.Y) * (p.Y - point.Y)));
}
