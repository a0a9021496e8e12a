using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Tests.Separations;

public class BaseAndTrapTests
{
    // 20 px/mm: an automatic choke of .15 mm is 3 px, the least strip of .25 mm is 5 px, a freckle of .5 mm 10 px.
    private const double PixelsPerMm = 20;

    private static BytePlane Plane(int width, int height, params (double L, double T, double R, double B)[] boxes)
    {
        var plane = new BytePlane(width, height);
        foreach (var (l, t, r, b) in boxes)
            PolygonFill.Fill(
                plane,
                [
                    [(l, t), (r, t), (r, b), (l, b)],
                ]
            );
        return plane;
    }

    private static double WidthAt(BytePlane plane, int y)
    {
        var sum = 0;
        foreach (var value in plane.Row(y))
            sum += value;
        return sum / 255.0;
    }

    private static Separation Separate(SizedArt art, SpotSettings settings, params Ground[] grounds) =>
        SpotSeparator.Separate(art, PrintMethods.Find("plastisol")!, [.. grounds], settings);

    private static Plate PlateOf(Separation separation, string name) => separation.Plates.Single(p => p.Name == name);

    [Theory]
    [InlineData(0.15)]
    [InlineData(0.3)]
    [InlineData(0.17)]
    public void A_choke_takes_its_width_off_every_edge(double mm)
    {
        var drawing = Plane(200, 100, (50.3, 20, 150.3, 80));

        var choked = Choke.Yielding(drawing, mm, PixelsPerMm);

        Assert.Equal(100 - 2 * mm * PixelsPerMm, WidthAt(choked, 50), 0.3);
    }

    // Shop-practice 4: minimum stroke with base 2 x choke + .25 mm, unless the choke yields.
    [Theory]
    [InlineData(16, 10)] // .8 mm: 16 - 2 x 3
    [InlineData(9, 5)] // .45 mm would leave 3 px: the strip of .25 mm stays
    [InlineData(6, 5)]
    [InlineData(4, 4)] // thinner than the strip: not shaved at all
    [InlineData(3, 3)]
    public void A_choke_yields_so_that_a_strip_of_a_quarter_millimetre_stays(double strokePx, double leftPx)
    {
        var drawing = Plane(120, 200, (50, 20, 50 + strokePx, 180));

        var choked = Choke.Yielding(drawing, 0.15, PixelsPerMm);

        Assert.Equal(leftPx, WidthAt(choked, 100), 1.0);
    }

    [Fact]
    public void A_choke_never_leaves_the_drawing()
    {
        var drawing = new BytePlane(300, 300);
        PolygonFill.Fill(
            drawing,
            [
                [(150, 10), (180, 140), (290, 150), (170, 170), (150, 290), (130, 160), (10, 150), (140, 140)],
            ]
        );

        var choked = Choke.Yielding(drawing, 0.15, PixelsPerMm);

        for (var i = 0; i < drawing.Pixels.Length; i++)
            Assert.True(choked.Pixels[i] <= drawing.Pixels[i]);
    }

    [Theory]
    [InlineData(0.2)]
    [InlineData(0.33)]
    public void A_trap_is_as_wide_as_asked_and_only_under_what_covers_it(double mm)
    {
        var light = Plane(200, 100, (0, 0, 80.4, 100));
        var dark = Plane(200, 100, (80.4, 0, 200, 60));

        var spread = Traps.SpreadUnder(light, dark, mm, PixelsPerMm);

        Assert.Equal(80.4 + mm * PixelsPerMm, WidthAt(spread, 30), 0.3);
        Assert.Equal(80.4, WidthAt(spread, 90), 0.3);
    }

    [Fact]
    public void A_trap_is_two_and_a_half_sigma_of_the_register_and_five_hundredths()
    {
        // sqrt(.06^2 + .04^2 + .03^2) = .0781; x 2.5 + .05 = .2453.
        Assert.Equal(0.2453, new SpotSettings().TrapMm, 1e-4);
    }

    [Fact]
    public void Red_runs_under_the_black_ring_and_stops_inside_it()
    {
        var separation = Separate(Crest.Sized(), new(), TestGrounds.Red);

        // Ring from radius 260 to 290 px around (290, 290) of the cropped art, 11.6 px/mm: trap .245 mm = 2.85 px.
        var red = PlateOf(separation, "Red").Shape!;
        Assert.Equal(2 * (260 + 2.85), Chord(red, 290), 1.0);
    }

    [Fact]
    public void The_base_runs_slightly_under_a_dark_key()
    {
        var art = new TestArt(600, 600).Disc("#000000", 300, 300, 290).Disc("#ffd100", 300, 300, 260);

        var separation = Separate(art.Sized(50), new(), TestGrounds.Red);

        var white = PlateOf(separation, "Base").Shape!;
        Assert.Equal(2 * (260 + 2.85), Chord(white, 290), 1.2);
    }

    [Fact]
    public void The_base_stays_inside_the_red_where_the_cloth_shows_next_to_it()
    {
        var separation = Separate(Crest.Sized(), new(), TestGrounds.Black);

        // Choked by .15 mm = 1.74 px on each side of the red disc of radius 260 px.
        Assert.Equal(2 * (260 - 1.74), Chord(PlateOf(separation, "White base").Shape!, 290), 1.0);
        Assert.Equal(2 * 260, Chord(PlateOf(separation, "Red").Shape!, 290), 1.0);
    }

    [Fact]
    public void A_manual_press_chokes_twice_as_much()
    {
        var separation = Separate(Crest.Sized(), new() { PressClass = PressClass.Manual }, TestGrounds.Black);

        Assert.Equal(2 * (260 - 3.48), Chord(PlateOf(separation, "White base").Shape!, 290), 1.0);
    }

    [Fact]
    public void The_arts_own_white_is_not_choked()
    {
        var art = new TestArt(400, 400).Disc("#ffffff", 200, 100, 80).Disc("#c8102e", 200, 300, 80);

        var white = Separate(art.Sized(20), new(), TestGrounds.Black).Plates[0].Shape!;

        // Cropped at the top by 20 px; 8 px/mm, so the red's base loses 2 x 1.2 px.
        Assert.Equal(160, WidthAt(white, 80), 0.6);
        Assert.Equal(160 - 2.4, WidthAt(white, 280), 0.8);
    }

    [Fact]
    public void A_base_has_no_freckles()
    {
        var art = new TestArt(600, 400).Disc("#ffd100", 200, 200, 150).Disc("#ffd100", 500, 200, 3.5);
        art.Disc("#101010", 200, 200, 3.5);

        // 20 px/mm: both spots are .35 mm across.
        var separation = Separate(art.Sized(22.66), new(), TestGrounds.Red);

        var white = separation.Plates[0].Shape!;
        Assert.Single(Islands.Find(white).All);
        Assert.DoesNotContain(Islands.Find(white, ink: false).All, hole => !hole.TouchesBorder);
        Assert.True(separation.Plates[1].Shape![450, 150] > 128);
    }

    [Fact]
    public void A_tint_gets_a_base_in_proportion()
    {
        var art = new TestArt(600, 300)
            .Rectangle("#ffd100", 0, 0, 300, 300)
            .Rectangle("#ffd100", 300, 0, 600, 300, alpha: 0.5);

        var separation = Separate(art.Sized(60), new(), TestGrounds.Black);

        Assert.All(
            separation.Plates,
            plate =>
            {
                Assert.Equal(128, plate.Wanted[450, 150], 1.0);
                Assert.True(plate.Tone[450, 150] < plate.Wanted[450, 150]);
                Assert.Equal(255, plate.Shape![450, 150]);
                Assert.Equal(255, plate.Tone[100, 150]);
            }
        );
        Assert.Single(separation.Plates.Select(p => p.Screen).Distinct());
    }

    [Fact]
    public void Film_tones_are_compensated_so_that_the_wanted_tone_prints()
    {
        var art = new TestArt(600, 300).Paint((x, _) => ("#0057b8", x / 599.0));

        var plate = Assert.Single(Separate(art.Sized(60), new(), TestGrounds.White).Plates);

        var growth = new ToneCompensation(plate.Screen.LinesPerInch, 25, plate.Screen.Dot);
        for (var x = 100; x < 560; x += 20)
        {
            var printed = growth.Printed(plate.Tone[x, 150] / 255.0);
            Assert.Equal(plate.Wanted[x, 150] / 255.0, printed, 0.006);
        }
    }

    [Theory]
    [InlineData(WeakTones.Cut)]
    [InlineData(WeakTones.Hold)]
    public void Weak_tones_are_cut_or_held_and_said(WeakTones rule)
    {
        var art = new TestArt(600, 300).Paint((x, _) => ("#0057b8", x / 599.0));

        var separation = Separate(art.Sized(60), new() { WeakTones = rule }, TestGrounds.White);

        var plate = Assert.Single(separation.Plates);
        var held = 255 * ToneCompensation.SmallestHeldTone(plate.Mesh, plate.Screen.LinesPerInch);
        Assert.Equal(rule == WeakTones.Cut ? 0 : (byte)Math.Round(held), plate.Tone[20, 150]);
        Assert.DoesNotContain(plate.Tone.Pixels, tone => tone > 0 && tone < Math.Floor(held));
        Assert.Contains(separation.Findings, f => f.Code == "weak-tones");
    }

    [Fact]
    public void Lines_thinner_than_the_mesh_holds_are_measured()
    {
        var art = new TestArt(400, 400).Disc("#101010", 200, 200, 180);
        for (var i = 0; i < 6; i++)
            art.Rectangle("#c8102e", 40, 100 + 30 * i, 360, 103 + 30 * i);

        // 20 px/mm: 3 px are .15 mm.
        var separation = Separate(art.Sized(18), new(), TestGrounds.White);

        var finding = Assert.Single(separation.Findings, f => f.Code == "thin-lines");
        Assert.InRange(finding.Measured!.Value, 0.1, 0.2);
        Assert.Equal(0.25, finding.Limit);
        Assert.Equal(
            "the thinnest lines of \"Red\" are 0.15 mm wide, 0.25 mm prints surely on a 120-34 mesh: at best it holds them; 95 mm of lines are too thin",
            finding.Message
        );
        Assert.Equal(
            "draw them 0.25 mm wide or wider, 5 px of this art, or place the print 30 mm wide or wider",
            finding.NextStep
        );
    }

    // The points of a star are thinner than any mesh holds, for a millimetre or two; they are no thin lines.
    [Fact]
    public void Tips_that_taper_are_no_thin_lines()
    {
        var art = new TestArt(1200, 1500);
        for (var i = 0; i < 9; i++)
            art.Star("#c8102e", 200 + 400 * (i % 3), 200 + 400 * (i / 3), 190, 30);
        for (var i = 0; i < 20; i++)
            art.Polygon("#c8102e", 1, [(20 + 55 * i, 1250), (44 + 55 * i, 1250), (32 + 55 * i, 1430)]);

        var separation = Separate(art.Sized(60), new(), TestGrounds.White);

        Assert.DoesNotContain(separation.Findings, f => f.Code == "thin-lines");
    }

    /// <summary>From the first to the last ink of a row, px, whatever lies between.</summary>
    private static double Chord(BytePlane plane, int y)
    {
        var row = plane.Row(y);
        var (first, last) = (row.IndexOfAnyExcept((byte)0), row.LastIndexOfAnyExcept((byte)0));
        return last - first - 1 + (row[first] + row[last]) / 255.0;
    }
}
