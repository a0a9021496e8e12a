using System.Xml.Linq;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Presses;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Methods;

/// <summary>Panels of dyed polyester, sewn: no pale folds, art that meets at seams within the sewer's tolerance.</summary>
public sealed class CutAndSewTests
{
    private static PrintMethod Method => PrintMethods.Find("cut-and-sew")!;

    private static readonly PrintLay Lay = new(new(Place.AllOverFront, -20, 0, 520), "L");

    // Common practice: cut panels keep no pale folds.
    [Fact]
    public void Dye_reaches_every_part_of_a_cut_panel()
    {
        var print = Striped(_ => true).PrintOn(PlainTee.WhitePolyester);

        Assert.True(print.MeanInk(30, 30, 490, 160) > 0.999);
        Assert.True(print.MeanInk(400, 30, 420, 160) > 0.999, "the armhole");
    }

    // 2 to 4 mm, [PHYSICS] 3.5.
    [Theory]
    [InlineData(Deposit.Expected, 0.1, 4)]
    [InlineData(Deposit.Light, 3.9, 4.1)]
    [InlineData(Deposit.Heavy, 3.9, 4.1)]
    public void Art_of_a_sleeve_meets_the_body_within_the_tolerance_of_sewing(
        Deposit deposit,
        double least,
        double most
    )
    {
        // A line across at 60 mm, one upright on the left sleeve at 460 mm.
        var films = Striped(mm => mm.Y is >= 60 and < 64 || mm.X is >= 460 and < 464);

        var print = films.PrintOn(PlainTee.WhitePolyester, deposit: deposit);

        Assert.Equal(60, EdgeDown(print, 300), 0.3);
        var (dx, dy) = (EdgeAcross(print, 430, 30) - 460, EdgeDown(print, 430) - 60);
        Assert.InRange(Math.Sqrt(dx * dx + dy * dy), least, most + 0.2);
        // The right sleeve was sewn on by itself.
        Assert.NotEqual(dy, EdgeDown(print, 60) - 60, 0.05);
    }

    [Fact]
    public void The_films_of_the_panels_know_nothing_of_the_sewing()
    {
        var films = Striped(mm => mm.Y < 60);
        var band = new BitPlane(films.Width, 1);

        films.Plates[0].ReadRows(10, band);

        Assert.Equal(films.Width, BitRows.CountInk(band));
    }

    [Fact]
    public void Each_panel_is_handed_over_mirrored_with_cut_line_sew_line_and_notches()
    {
        var proof = Make(TestArt.On(60, 60, "#c8102e").Rectangle("#103080", 0, 0, 20, 60), 60);

        var files = Method.Production(proof);

        Assert.Equal(
            [
                "panels/01-right-sleeve.svg",
                "panels/01-right-sleeve.png",
                "panels/02-left-sleeve.svg",
                "panels/02-left-sleeve.png",
                "panels/03-body.svg",
                "panels/03-body.png",
                "panels/panels.txt",
            ],
            files.Select(f => f.Name)
        );
        var svg = XDocument.Parse(files.OfType<ProductionText>().Single(f => f.Name.Contains("body")).Text);
        XNamespace ns = "http://www.w3.org/2000/svg";
        // The body is 300 x 360 mm, 10 mm of allowance and 5 mm of paper on each side.
        Assert.Equal("330mm", svg.Root!.Attribute("width")!.Value);
        Assert.Equal("390mm", svg.Root.Attribute("height")!.Value);
        Assert.Equal("plain-tee, L, front, body, mirrored", svg.Root.Element(ns + "title")!.Value);
        var classes = svg.Root.Elements(ns + "path").Select(p => p.Attribute("class")!.Value).ToArray();
        Assert.Single(classes, "cut-line");
        Assert.Single(classes, "sew-line");
        Assert.True(classes.Count(c => c == "notch") >= 10);
        var sleeve = files.OfType<ProductionChannels>().First();
        Assert.Equal((100 + 20) * proof.Separation.PixelsPerMm, sleeve.Channels[0].Plane.Width, 2.0);
    }

    [Fact]
    public void Narrow_art_repeats_and_wide_art_must_run_past_the_outline()
    {
        var narrow = Make(TestArt.On(60, 60, "#c8102e"), 120).Findings;
        var wide = Make(TestArt.On(60, 60, "#c8102e"), 480).Findings;

        Assert.Equal(
            "the art is 120 mm wide and repeats 4.3 x 3.3 times to cover the front of Plain tee in L, 480 x 360 mm, with 15 mm of bleed",
            narrow.Single(f => f.Code == "art-repeats").Message
        );
        var bleed = wide.Single(f => f.Code == "too-little-bleed");
        Assert.Equal(
            "the art runs 0 mm past the outline of the front of Plain tee in L, 480 x 360 mm; 15 mm are needed: the seam allowance is 10 mm and cloth is cut by hand",
            bleed.Message
        );
        Assert.Equal(
            "make the art 510 mm wide, with its background running on to all sides, or supply a pattern that repeats",
            bleed.NextStep
        );
        Assert.DoesNotContain(Make(TestArt.On(60, 60, "#c8102e"), 515).Findings, f => f.Code == "too-little-bleed");
    }

    [Fact]
    public void A_repeat_closes_without_a_step()
    {
        var art = TestArt.On(50, 50, "#ffffff").Rectangle("#103080", 0, 0, 25, 50);

        var (covered, placement) = AllOverArt.Cover(art.Sized(50), PlainTee.Garment, "L", Place.Front, 15, "a test");

        Assert.Equal(Place.AllOverFront, placement.Place);
        Assert.Equal(510, covered.WidthMm, 1.0);
        Assert.Equal(390, covered.HeightMm, 1.0);
        Assert.Equal(placement.WidthMm, covered.WidthMm);
        var row = covered.Pixels.Row(10);
        var period = (int)Math.Round(50 * covered.PixelsPerMm);
        for (var x = 0; x + period < covered.Pixels.Width; x++)
            Assert.Equal(row[4 * x], row[4 * (x + period)]);
    }

    [Fact]
    public void Cotton_is_refused_as_for_every_dye_print() =>
        Assert.Equal(
            "White cotton is 0 % polyester and sublimation dyes no other fibre; 35 % is the least, 65 % looks good",
            Assert
                .Throws<ProofRefused>(() => Make(TestArt.On(60, 60, "#c8102e"), 120, PlainTee.WhiteCotton))
                .Findings.Single(f => f.Weight == FindingWeight.Refusal)
                .Message
        );

    private static Proof Make(TestArt art, double widthMm, Ground? ground = null) =>
        ProofMaker.Make(
            new(art.Artwork(), Placement.Usual(Place.Front, widthMm), Method, [ground ?? PlainTee.WhitePolyester])
            {
                Background = BackgroundChoice.Print,
                Light = ViewingLight.D50,
                Device = OutputDevice.Fallback with { XDpi = 240, YDpi = 240 },
            },
            null,
            default
        );

    /// <summary>Black dye where a rule in mm says so, 520 x 400 mm at 240 dpi.</summary>
    private static Films Striped(Func<(double X, double Y), bool> inked)
    {
        var device = OutputDevice.Fallback with { XDpi = 240, YDpi = 240 };
        var bits = PressBench.Drawn(4913, 3780, (x, y) => inked((x / 240.0 * 25.4, y / 240.0 * 25.4)));
        var tone = new BytePlane(1, 1);
        var plate = new Plate(
            "Black",
            PlatePurpose.Process,
            DyeInks.All[3],
            Mesh.None,
            new Screen(30, 22.5, DotShape.Round),
            tone,
            null,
            tone,
            1,
            false
        );
        var films = PressBench.Films(device, (plate, bits));
        return films with { Separation = films.Separation with { Press = Method.Press, Lay = Lay } };
    }

    private static double EdgeDown(PrintedCloth cloth, double xMm)
    {
        for (var y = PressBench.Pixel(cloth, 50); y < PressBench.Pixel(cloth, 80); y++)
            if (cloth.InkMask[PressBench.Pixel(cloth, xMm), y] > 127)
                return y / cloth.Print.PixelsPerMm - cloth.MarginMm;
        return double.NaN;
    }

    private static double EdgeAcross(PrintedCloth cloth, double fromMm, double yMm)
    {
        for (var x = PressBench.Pixel(cloth, fromMm); x < PressBench.Pixel(cloth, 490); x++)
            if (cloth.InkMask[x, PressBench.Pixel(cloth, yMm)] > 127)
                return x / cloth.Print.PixelsPerMm - cloth.MarginMm;
        return double.NaN;
    }
}
