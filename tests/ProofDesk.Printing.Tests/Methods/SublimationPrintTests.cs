using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Dyes;
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

/// <summary>Dye sublimation through the whole pipeline: [PHYSICS] P11 to P13 on printed solids, and what the trade knows.</summary>
public sealed class SublimationPrintTests
{
    private static PrintMethod Method => PrintMethods.Find("sublimation")!;

    private static readonly ImmutableArray<InkPass> Passes =
    [
        .. DyeInks.All.Select(ink => new InkPass(ink, Mesh.None, 1, false)),
    ];

    // [PHYSICS] P11. The method refuses such a garment; the press shows why.
    [Fact]
    public void On_black_polyester_every_dye_is_practically_invisible_and_none_is_lighter_than_the_cloth()
    {
        var before = Cloths.LabOf(PlainTee.BlackPolyester);

        for (var code = 1UL; code < 16; code++)
        {
            var after = Solid(PlainTee.BlackPolyester, code);
            // A single dye within 6; all four together a little more.
            Assert.InRange(before.L - after.L, 0, System.Numerics.BitOperations.PopCount(code) == 1 ? 6 : 7.5);
            Assert.InRange(Ciede2000.Difference(before, after), 0, 7);
        }
    }

    // [PHYSICS] P12, black L* 20/32/38/47 at 100/65/50/35 % polyester, within 4.
    [Theory]
    [InlineData(1.00, 20)]
    [InlineData(0.65, 32)]
    [InlineData(0.50, 38)]
    [InlineData(0.35, 47)]
    public void The_printed_black_of_a_blend_is_as_pale_as_the_trade_knows_it(double polyester, double lightness)
    {
        var ground = PlainTee.Of("Blend", ClothSpectra.WhitePolyester(), polyester);

        var print = Print("#000000", ground);

        Assert.Equal(lightness, print.MeanLab(4, 4, 16, 16).L, 4.0);
    }

    // [PHYSICS] P12 and common practice: half of the fibres take the dye, so colours keep their hue and lose chroma.
    [Theory]
    [InlineData("#00a0e0")]
    [InlineData("#e0007a")]
    public void Half_a_polyester_prints_muted(string hex)
    {
        var proof = Make(TestArt.On(100, 100, hex), 20, PlainTee.WhitePolyester, PlainTee.WhiteHalf);
        var (full, half) = (
            proof.Grounds[0].Expected.MeanLab(4, 4, 16, 16),
            proof.Grounds[1].Expected.MeanLab(4, 4, 16, 16)
        );

        Assert.InRange(1 - half.Chroma / full.Chroma, 0.05, 0.35);
        Assert.InRange(half.L - full.L, 3, 17);
    }

    // [PHYSICS] P13.
    [Fact]
    public void White_of_the_art_is_the_cloth_to_the_last_bit()
    {
        var art = TestArt.On(200, 100, "#ffffff").Rectangle("#c8102e", 100, 0, 200, 100);
        var proof = Make(art, 20, PlainTee.WhiteHalf);
        var cloth = proof.Grounds[0].Expected;
        var blank = new BitPlane(proof.Films.Width, 40);

        foreach (var film in proof.Films.Plates)
        {
            var band = new BitPlane(film.Width, 40);
            film.ReadRows(100, band);
            for (var y = 0; y < band.Height; y++)
                Assert.Equal(0, BitRows.CountInk(band.Row(y)[..(film.Width * 2 / 5 / 64)]));
        }
        Assert.Equal(0, cloth.MeanInk(0, 0, 9, 10));
        Assert.Contains(proof.Findings, f => f.Code == "white-is-the-cloth");
    }

    [Fact]
    public void Dyes_add_in_the_fibre_whatever_their_order()
    {
        var forth = Method.Press.On(PlainTee.WhiteHalf, Passes, PressSettings.Automatic, Deposit.Expected);
        var back = Method.Press.On(
            PlainTee.WhiteHalf,
            [.. Passes.Reverse()],
            PressSettings.Automatic,
            Deposit.Expected
        );

        var (a, b) = (forth.Solid(0b0011), back.Solid(0b1100));

        for (var i = 0; i < Spectrum.Bands; i++)
            Assert.Equal(a[i], b[i], 1e-12);
        var direct = Sublimation.Cloth(
            PlainTee.WhiteHalf.Colour,
            [(SublimationDye.Default[0], 1), (SublimationDye.Default[1], 1)]
        );
        for (var i = 0; i < Spectrum.Bands; i++)
            Assert.Equal(direct[i], a[i], 1e-12);
    }

    [Fact]
    public void Dye_does_nothing_to_a_film_of_plastisol()
    {
        var white = new InkPass(InkLibrary.Find("white")!, Meshes.Find("61-64")!, 1, true);
        var cloth = Method.Press.On(
            PlainTee.WhitePolyester,
            [white, Passes[3]],
            PressSettings.Automatic,
            Deposit.Expected
        );

        Assert.Equal(
            cloth.Reflectance(0b01, new(3, false)).Values.ToArray(),
            cloth.Reflectance(0b11, new(3, false)).Values.ToArray()
        );
    }

    // The separation is the inverse of the press: colours the dyes can reach come out as asked, scaled between cloth and black.
    [Theory]
    [InlineData("#c08060")]
    [InlineData("#6080a0")]
    [InlineData("#90a060")]
    [InlineData("#b0b0b0")]
    [InlineData("#705070")]
    public void A_reachable_colour_prints_as_asked(string hex)
    {
        var ground = PlainTee.WhitePolyester;
        var wanted = Scaled(hex, ground);

        var print = Print(hex, ground).MeanLab(4, 4, 16, 16);

        Assert.True(
            Ciede2000.Difference(wanted, print) < 3,
            $"{hex}: wanted {wanted}, printed {print}, {Ciede2000.Difference(wanted, print):0.0} dE00"
        );
    }

    [Fact]
    public void A_ramp_stays_in_order()
    {
        var art = new TestArt(256, 40).Paint((x, _) => ($"#{255 - x:x2}{255 - x:x2}{255 - x:x2}", 1));
        var proof = Make(art, 64, PlainTee.WhitePolyester);
        var cloth = proof.Grounds[0].Expected;

        var before = cloth.MeanLab(1, 2, 5, 8).L;
        for (var mm = 5; mm + 4 <= 62; mm += 4)
        {
            var here = cloth.MeanLab(mm, 2, mm + 4, 8).L;
            Assert.True(here < before + 0.3, $"L* {here:0.0} at {mm} mm after {before:0.0}");
            before = here;
        }
    }

    [Fact]
    public void Grounds_it_cannot_dye_are_refused_with_the_reason_of_the_trade()
    {
        Assert.Equal(
            "black has L* 17 and sublimation has no white, so the cloth shows through every colour; L* 70 is the least",
            Refusal(PlainTee.BlackPolyester).Message.Replace("Black", "black", StringComparison.Ordinal)
        );
        Assert.Equal("choose a white or pastel garment or another method", Refusal(PlainTee.BlackPolyester).NextStep);
        Assert.Equal(
            "White cotton is 0 % polyester and sublimation dyes no other fibre; 35 % is the least, 65 % looks good",
            Refusal(PlainTee.WhiteCotton).Message
        );
        Assert.Equal("choose another method or another garment", Refusal(PlainTee.WhiteCotton).NextStep);
    }

    [Fact]
    public void A_white_base_and_inks_of_other_methods_are_refused()
    {
        var art = TestArt.On(40, 40, "#c8102e").Sized(20);
        var settings = new SpotSettings { Base = BaseChoice.White, Inks = InkChoice.Of(InkLibrary.Find("red")!) };

        var found = DyeSeparator.Separate(art, Method, [PlainTee.WhitePolyester], settings).Findings;

        Assert.Equal(
            [
                "sublimation has no base: dye is clear and there is no white dye",
                "Red (red) is not an ink of sublimation",
            ],
            found.Where(f => f.Weight == FindingWeight.Refusal).Select(f => f.Message)
        );
    }

    // Common practice: on a half-polyester cloth about half the fibres take the dye.
    [Fact]
    public void A_blend_is_warned_about_with_the_chroma_it_costs()
    {
        var found = DyeSeparator
            .Separate(TestArt.On(40, 40, "#c8102e").Sized(20), Method, [PlainTee.WhiteHalf], new())
            .Findings.Single(f => f.Code == "muted-on-blend");

        Assert.Equal(FindingWeight.Warning, found.Weight);
        Assert.Matches(
            "^white half is 50 % polyester and the other fibres take no dye: full cyan, magenta and yellow lose (1[0-9]|2[0-9]) % of their chroma against polyester alone, black prints at L\\* (3[5-9]|4[0-2])$",
            found.Message
        );
        Assert.Equal(
            "show the client the muted proof and say so, or choose a garment of 65 % polyester or more",
            found.NextStep
        );
    }

    [Fact]
    public void The_print_file_is_mirrored_and_larger_by_the_shrink()
    {
        var art = TestArt.On(100, 50, "#ffffff").Rectangle("#101010", 0, 0, 25, 50);
        var proof = Make(art, 50, PlainTee.WhitePolyester);

        var files = Method.Production(proof);

        var channels = files.OfType<ProductionChannels>().Single();
        Assert.Equal(proof.Separation.PixelsPerMm / 1.015, channels.PixelsPerMm, 1e-9);
        var black = channels.Channels.Single(c => c.Name == "black").Plane;
        Assert.Equal(0, black[10, 25]);
        Assert.True(black[95, 25] > 150, $"{black[95, 25]}");
        Assert.Contains("on paper       50.8 x 25.4 mm\n", files.OfType<ProductionText>().Single().Text);
        Assert.True(proof.Films.Device.Mirror);
    }

    // Common practice: a sewn garment keeps pale folds where a cut panel does not.
    [Fact]
    public void A_sewn_garment_keeps_pale_creases_at_its_seams_and_a_flat_panel_none()
    {
        var lay = new PrintLay(new(Place.AllOverFront, -20, 0, 520), "L");
        var films = Solid(520, 400, lay, SublimationPress.Sewn);
        var cut = Solid(520, 400, lay, new SublimationPress(sewn: false));

        var (sewn, flat) = (films.PrintOn(PlainTee.WhitePolyester), cut.PrintOn(PlainTee.WhitePolyester));

        // The left armhole runs at 150 mm from the middle, 260 mm from the print's left edge.
        Assert.True(flat.MeanInk(100, 30, 420, 370) > 0.999);
        Assert.InRange(sewn.MeanInk(404, 30, 416, 160), 0.5, 0.95);
        Assert.True(sewn.MeanInk(230, 60, 330, 200) > 0.999, "the chest lies flat");
        Assert.True(sewn.MeanLab(404, 30, 416, 160).L > flat.MeanLab(404, 30, 416, 160).L + 4);
    }

    [Fact]
    public void A_small_print_on_the_chest_meets_no_crease()
    {
        var lay = new PrintLay(new(Place.Front, 60, 0, 120), "L");

        var print = Solid(120, 120, lay, SublimationPress.Sewn).PrintOn(PlainTee.WhitePolyester);

        Assert.True(print.MeanInk(1, 1, 119, 119) > 0.9999);
    }

    [Fact]
    public void Creases_are_the_same_for_the_same_seed_and_leave_the_film_whole()
    {
        var lay = new PrintLay(new(Place.AllOverFront, -20, 0, 520), "L");
        var films = Solid(520, 400, lay, SublimationPress.Sewn);

        var (one, two) = (films.PrintOn(PlainTee.WhitePolyester), films.PrintOn(PlainTee.WhitePolyester));

        Assert.True(one.Print.Pixels.AsSpan().SequenceEqual(two.Print.Pixels));
        var band = new BitPlane(films.Width, 64);
        films.Plates[0].ReadRows(2000, band);
        Assert.Equal((long)films.Width * 64, BitRows.CountInk(band));
    }

    private static Lab Solid(Ground ground, ulong code) =>
        Method
            .Press.On(ground, Passes, Method.Press.Settings(PressSettings.Automatic), Deposit.Expected)
            .SolidLab(code, ViewingLight.D50);

    private static PrintedCloth Print(string hex, Ground ground) =>
        Make(TestArt.On(100, 100, hex), 20, ground).Grounds[0].Expected;

    private static Proof Make(TestArt art, double widthMm, params ImmutableArray<Ground> grounds) =>
        ProofMaker.Make(
            new(art.Artwork(), Placement.Usual(Place.Front, widthMm), Method, grounds)
            {
                Background = BackgroundChoice.Print,
                Light = ViewingLight.D50,
            },
            null,
            default
        );

    private static Finding Refusal(Ground ground) =>
        Assert
            .Throws<ProofRefused>(() => Make(TestArt.On(100, 100, "#c8102e"), 20, ground))
            .Findings.Single(f => f.Weight == FindingWeight.Refusal);

    private static Lab Scaled(string hex, Ground ground)
    {
        var rgb = Convert.ToInt32(hex[1..], 16);
        var art = Srgb.ToXyz(
            Srgb.Decode((rgb >> 16) / 255.0, (rgb >> 8 & 255) / 255.0, (rgb & 255) / 255.0),
            ViewingLight.D50
        );
        var cloth = Tristimulus.Of(ground.Colour.Reflectance, ViewingLight.D50);
        var black = CieLab.ToXyz(Solid(ground, 0b1000), ViewingLight.D50);
        var white = Tristimulus.White(ViewingLight.D50);
        return CieLab.FromXyz(
            new(
                black.X + (cloth.X - black.X) * art.X / white.X,
                black.Y + (cloth.Y - black.Y) * art.Y / white.Y,
                black.Z + (cloth.Z - black.Z) * art.Z / white.Z
            ),
            ViewingLight.D50
        );
    }

    /// <summary>A solid of the black dye at 480 dpi.</summary>
    private static Films Solid(double widthMm, double heightMm, PrintLay lay, MethodPress press)
    {
        var device = OutputDevice.Fallback with { XDpi = 480, YDpi = 480 };
        var tone = new BytePlane(2, 2);
        tone.Pixels.AsSpan().Fill(255);
        var plate = new Plate(
            "Black",
            PlatePurpose.Process,
            DyeInks.All[3],
            Mesh.None,
            new Screen(60, 22.5, DotShape.Round),
            tone,
            null,
            tone,
            1,
            false
        );
        var separation = new Separation([plate], [], [], widthMm, heightMm, 0.1, []) { Press = press, Lay = lay };
        return FilmMaker.Screen(separation, device);
    }
}
