using System.Collections.Immutable;
using ProofDesk.Adapters.Garments;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Adapters.Tests.Garments;

/// <summary>The worn picture on the shipped tee: needs the garment file, so it is tested beside its reader.</summary>
public sealed class WornGarmentTests
{
    private const double PixelsPerMm = 1;
    private const double MarginMm = 6;
    private static readonly Garment Tee = GarmentCatalogue
        .Load(Path.Combine(GarmentCatalogueTests.RepositoryRoot(), "garments"))
        .Find("tee")!;

    [Theory]
    [InlineData(Place.Front, 75, 0)]
    [InlineData(Place.LeftChest, 85, 105)]
    [InlineData(Place.RightChest, 85, -105)]
    [InlineData(Place.Back, 95, 0)]
    public void A_print_lies_where_the_tape_measure_says(Place place, double fromSeamMm, double fromCentreMm)
    {
        var ground = Ground("black");
        var placement = new Placement(place, fromSeamMm, fromCentreMm, 60);

        var side = WornGarment.SideOf(place);
        var bare = Draw(ground, side, []);
        var printed = Draw(ground, side, [new PlacedPrint(Patch(ground, 60, 40), placement)]);

        var (left, top, right, bottom) = Changed(bare, printed);
        var middle = bare.Width / 2.0;
        var towardsPictureRight = side == GarmentSide.Front ? fromCentreMm : -fromCentreMm;
        // Slopes of the cushion draw a ruler on the cloth a few per cent shorter than across the picture.
        Assert.Equal(middle + towardsPictureRight * PixelsPerMm, (left + right) / 2, 8.0);
        Assert.InRange(right - left, 60 * 0.9, 60 * 1.03);
        Assert.InRange(bottom - top, 40 * 0.9, 40 * 1.05);
        var seamY = SeamRow(side);
        Assert.Equal(seamY + fromSeamMm * PixelsPerMm, top, 6.0);
    }

    [Fact]
    public void A_sleeve_print_lies_on_the_wearers_own_sleeve()
    {
        var ground = Ground("white");
        var left = new Placement(Place.LeftSleeve, 30, 0, 70);

        var bare = Draw(ground, GarmentSide.Front, []);
        var printed = Draw(ground, GarmentSide.Front, [new PlacedPrint(Patch(ground, 70, 30), left)]);

        var (x0, _, _, _) = Changed(bare, printed);
        // The wearer's left is the picture's right when we look at the front.
        Assert.True(x0 > bare.Width * 0.75);
    }

    [Fact]
    public void A_print_on_the_other_side_does_not_show()
    {
        var ground = Ground("red");
        var back = new PlacedPrint(Patch(ground, 60, 40), Placement.Usual(Place.Back, 60));

        Assert.Equal(Draw(ground, GarmentSide.Front, []).Pixels, Draw(ground, GarmentSide.Front, [back]).Pixels);
    }

    [Fact]
    public void Flat_cloth_in_the_picture_has_the_colour_of_the_cloth()
    {
        foreach (var colour in Tee.Colours)
        {
            var ground = new Ground(Tee, colour);
            var picture = Draw(ground, GarmentSide.Front, []);

            var (x, y) = (picture.Width / 2, picture.Height / 2);
            var seen = MeanLab(picture, x - 40, y - 40, 80, 80);
            var cloth = CieLab.FromXyz(Tristimulus.Of(Brightener.Radiance(colour), ViewingLight.D65), ViewingLight.D65);
            // The light of the room may differ by a few L* over the chest; hue and chroma stay.
            Assert.InRange(seen.L - cloth.L, -6, 6);
            Assert.InRange(Math.Abs(seen.Chroma - cloth.Chroma), 0, 6);
        }
    }

    [Fact]
    public void The_same_seed_draws_the_same_bytes()
    {
        var ground = Ground("light-heather");

        Assert.Equal(Draw(ground, GarmentSide.Back, []).Pixels, Draw(ground, GarmentSide.Back, []).Pixels);
    }

    [Fact]
    public void A_size_the_garment_does_not_have_is_refused_with_those_it_has()
    {
        var problem = Assert.Throws<ArgumentException>(() =>
            WornGarment.Draw(Ground("black"), "7XL", GarmentSide.Front, [], ViewingLight.D65, 1, 1)
        );

        Assert.Equal("Crew-neck tee has no size 7XL; it has S, M, L, XL, 2XL, 3XL", problem.Message);
    }

    private static Ground Ground(string colour) => new(Tee, Tee.Colour(colour)!);

    private static RgbPicture Draw(Ground ground, GarmentSide side, ImmutableArray<PlacedPrint> prints) =>
        WornGarment.Draw(ground, "L", side, prints, ViewingLight.D65, PixelsPerMm, 1);

    /// <summary>A flat green patch of ink with its margin of cloth.</summary>
    private static PrintedCloth Patch(Ground ground, double widthMm, double heightMm)
    {
        const double ppm = 8;
        var (w, h) = ((int)((widthMm + 2 * MarginMm) * ppm), (int)((heightMm + 2 * MarginMm) * ppm));
        var picture = new RgbPicture(w, h, ppm);
        var ink = new BytePlane(w, h);
        for (var y = 0; y < h; y++)
        {
            for (var x = 0; x < w; x++)
            {
                var inside =
                    x >= MarginMm * ppm && x < w - MarginMm * ppm && y >= MarginMm * ppm && y < h - MarginMm * ppm;
                ink[x, y] = inside ? (byte)255 : (byte)0;
                picture.Pixels[(y * w + x) * 3 + 1] = inside ? (byte)180 : (byte)20;
            }
        }
        return new PrintedCloth(ground, Deposit.Expected, picture, ink, new BitPlane(w, h), 0, 0, MarginMm, 1);
    }

    private static (int Left, int Top, int Right, int Bottom) Changed(RgbPicture a, RgbPicture b)
    {
        var (left, top, right, bottom) = (int.MaxValue, int.MaxValue, -1, -1);
        for (var y = 0; y < a.Height; y++)
        {
            for (var x = 0; x < a.Width; x++)
            {
                var i = (y * a.Width + x) * 3;
                if (Math.Abs(a.Pixels[i + 1] - b.Pixels[i + 1]) < 40)
                    continue;
                (left, right) = (Math.Min(left, x), Math.Max(right, x + 1));
                (top, bottom) = (Math.Min(top, y), Math.Max(bottom, y + 1));
            }
        }
        return (left, top, right, bottom);
    }

    /// <summary>Row of the collar seam: the drawing starts 30 mm above the highest point of the garment.</summary>
    private static double SeamRow(GarmentSide side)
    {
        var highest = Tee.Shape!.View(side)!
            .Pieces.SelectMany(p => p.Outline.Flatten(Tee.Size("L")!, 10))
            .Min(p => p.Y);
        return (30 - highest) * PixelsPerMm;
    }

    private static Lab MeanLab(RgbPicture picture, int x0, int y0, int w, int h)
    {
        var (r, g, b) = (0.0, 0.0, 0.0);
        for (var y = y0; y < y0 + h; y++)
        {
            for (var x = x0; x < x0 + w; x++)
            {
                var i = (y * picture.Width + x) * 3;
                r += Srgb.Decode(picture.Pixels[i] / 255.0);
                g += Srgb.Decode(picture.Pixels[i + 1] / 255.0);
                b += Srgb.Decode(picture.Pixels[i + 2] / 255.0);
            }
        }
        var n = (double)w * h;
        var xyz = Srgb.ToXyz(new LinearRgb(r / n, g / n, b / n), ViewingLight.D65);
        return CieLab.FromXyz(xyz, ViewingLight.D65);
    }
}
