using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Layers;

namespace ProofDesk.Printing.Tests.Separations.Layers;

/// <summary>Layers become plates as they were drawn; what is not drawn is made or said.</summary>
public class LayeredSeparationTests
{
    private static Separation Separate(
        SizedArt art,
        string method,
        SpotSettings settings,
        params ImmutableArray<Ground> grounds
    ) => LayeredArt.Separate(art, PrintMethods.Find(method)!, grounds, settings);

    private static Separation OnBlack(LayeredTestArt art, string method = "plastisol", SpotSettings? settings = null) =>
        Separate(art.Sized(60), method, settings ?? new(), TestGrounds.Black);

    private static LayeredTestArt Three() =>
        new LayeredTestArt(500, 200)
            .Disc("01_Red", "#c8102e", 90, 100, 80)
            .Disc("Warm yellow", "#f5c400", 250, 100, 80)
            .Disc("Royal blue", "#1f4fa8", 410, 100, 80);

    private static string[] Names(Separation separation) => [.. separation.Plates.Select(p => p.Name)];

    private static string[] Running(Separation separation, int ground) =>
        [.. separation.Grounds[ground].Runs.Where(r => r.Runs).Select(r => separation.Plates[r.Plate].Name)];

    private static string Said(Separation separation, string code) =>
        Assert.Single(separation.Findings, f => f.Code == code).Message;

    private static double Mean(BytePlane plane) => plane.Pixels.Average(p => (double)p) / 255;

    [Fact]
    public void Each_layer_is_a_plate_in_the_order_of_the_file_on_a_base_that_is_made()
    {
        var separation = OnBlack(Three());

        Assert.Equal(["Base", "Red", "Warm yellow", "Royal blue"], Names(separation));
        Assert.Equal(["white", "red", "warm-yellow", "royal-blue"], separation.Plates.Select(p => p.Ink.Id));
        Assert.Equal(
            "no layer is a base and black needs one: it is made under 3 of 3 layers, 0.15 mm inside them",
            Said(separation, "base-made-for-layers")
        );
    }

    [Fact]
    public void On_pale_cloth_the_layers_print_alone()
    {
        var separation = Separate(Three().Sized(60), "plastisol", new(), TestGrounds.White);

        Assert.Equal(["Red", "Warm yellow", "Royal blue"], Names(separation));
    }

    [Fact]
    public void A_solid_layer_is_its_plate_to_the_pixel_and_its_film_covers_as_much()
    {
        var art = Three().Sized(60);
        var separation = Separate(art, "plastisol", new(), TestGrounds.White);
        var device = OutputDevice.Fallback with { XDpi = 1440, YDpi = 1440 };
        var films = FilmMaker.Screen(separation, device);

        for (var i = 0; i < 3; i++)
        {
            Assert.Equal(art.Layers[i].Coverage.Pixels, separation.Plates[i].Shape!.Pixels);
            Assert.Equal(
                100 * Mean(art.Layers[i].Coverage),
                FilmMeasure.Of(films.Plates[i], device).CoveragePercent,
                0.2
            );
        }
    }

    [Fact]
    public void A_fade_is_wanted_as_drawn_and_printed_smaller_by_what_the_dots_will_grow()
    {
        var art = new LayeredTestArt(400, 200)
            .Tone("Black", "#101010", (x, _) => x / 399.0)
            .Boxes("Red", "#c8102e", (0, 0, 400, 40))
            .Sized(120);
        var separation = Separate(art, "plastisol", new(), TestGrounds.White);
        var plate = separation.Plates[0];

        Assert.Equal("Black", plate.Name);
        Assert.Equal(0.5, Mean(plate.Wanted), 0.005);
        Assert.InRange(Mean(plate.Tone), 0.35, 0.47);
        Assert.All(Enumerable.Range(20, 340), x => Assert.Equal(art.Layers[0].Coverage[x, 100], plate.Wanted[x, 100]));
    }

    [Fact]
    public void A_base_that_was_drawn_runs_first_and_unchanged()
    {
        var art = Three().Boxes("UB", "#ffffff", (20, 30, 480, 170)).Sized(60);

        var separation = Separate(art, "plastisol", new(), TestGrounds.Black, TestGrounds.White);

        Assert.Equal(["White base", "Red", "Warm yellow", "Royal blue"], Names(separation));
        Assert.Equal(art.Layers[3].Coverage.Pixels, separation.Plates[0].Shape!.Pixels);
        Assert.Equal(Names(separation), Running(separation, 0));
        Assert.Equal(["Red", "Warm yellow", "Royal blue"], Running(separation, 1));
        Assert.Equal(
            "the layer \"UB\" is the base as it was drawn, without a choke of ours and runs first, whatever its place in the file: it runs on black, rests on white",
            Said(separation, "layer-is-base")
        );
        Assert.Equal("the layer \"UB\", as it was drawn", separation.Grounds[0].Runs[0].Reason);
    }

    [Fact]
    public void White_under_other_layers_is_a_base_and_beside_them_it_shares_the_screen_of_the_base()
    {
        var under = OnBlack(
            new LayeredTestArt(500, 200)
                .Boxes("White", "#ffffff", (12, 12, 238, 188))
                .Boxes("Red", "#c8102e", (10, 10, 240, 190))
        );
        var beside = OnBlack(
            new LayeredTestArt(500, 200)
                .Boxes("White", "#ffffff", (260, 10, 490, 190))
                .Boxes("Red", "#c8102e", (10, 10, 240, 190))
        );

        Assert.Equal(["Base", "Red"], Names(under));
        Assert.Equal(PlatePurpose.Base, under.Plates[0].Purpose);
        Assert.StartsWith(
            "the layer \"White\" is the base, because other layers lie on it, as it was drawn",
            Said(under, "layer-is-base"),
            StringComparison.Ordinal
        );
        Assert.Equal(["White base", "Red"], Names(beside));
        Assert.Equal(PlatePurpose.BaseAndWhite, beside.Plates[0].Purpose);
        Assert.Equal(
            "the layer \"White\" lies beside the others, so the screen of the base prints it with the base: a screen less",
            Said(beside, "layer-on-base-screen")
        );
    }

    [Fact]
    public void White_on_top_keeps_its_place_and_highlight_white_its_purpose()
    {
        var onTop = OnBlack(
            new LayeredTestArt(500, 200)
                .Boxes("Red", "#c8102e", (10, 10, 490, 190))
                .Boxes("White", "#ffffff", (100, 50, 200, 150))
        );
        var highlight = OnBlack(
            new LayeredTestArt(500, 200)
                .Boxes("Red", "#c8102e", (10, 10, 490, 190))
                .Boxes("Highlight white", "#ffffff", (100, 50, 200, 150))
        );

        Assert.Equal(["Base", "Red", "White"], Names(onTop));
        Assert.Equal(PlatePurpose.Spot, onTop.Plates[2].Purpose);
        Assert.Equal(["Base", "Red", "Highlight white"], Names(highlight));
        Assert.Equal(PlatePurpose.HighlightWhite, highlight.Plates[2].Purpose);
    }

    [Fact]
    public void A_base_that_nobody_wants_is_left_out_and_said()
    {
        var art = Three().Boxes("Base", "#ffffff", (20, 30, 480, 170)).Sized(60);

        Assert.Equal(
            "the layer \"Base\" is left out: no base was asked for",
            Said(Separate(art, "plastisol", new() { Base = BaseChoice.None }, TestGrounds.Black), "layer-left-out")
        );
        Assert.Equal(
            "the layer \"Base\" is left out: discharge has no base",
            Said(Separate(art, "discharge", new(), TestGrounds.Black), "layer-left-out")
        );
    }

    [Fact]
    public void A_layer_called_discharge_is_the_discharge_base_of_plastisol()
    {
        var separation = OnBlack(Three().Boxes("Discharge", "#e8dcc0", (20, 30, 480, 170)));

        Assert.Equal("Discharge base", separation.Plates[0].Name);
        Assert.Equal(PlatePurpose.DischargeBase, separation.Plates[0].Purpose);
        Assert.Equal("discharge-base", separation.Plates[0].Ink.Id);
    }

    [Fact]
    public void Black_rests_on_black_cloth_unless_it_lies_on_another_layer()
    {
        var beside = Separate(
            new LayeredTestArt(500, 200)
                .Boxes("Red", "#c8102e", (10, 10, 240, 190))
                .Boxes("Black", "#101010", (260, 10, 490, 190))
                .Sized(60),
            "plastisol",
            new(),
            TestGrounds.Black,
            TestGrounds.White
        );
        var onTop = OnBlack(
            new LayeredTestArt(500, 200)
                .Boxes("Red", "#c8102e", (10, 10, 490, 190))
                .Boxes("Black", "#101010", (100, 50, 200, 150))
        );

        Assert.Equal(["Base", "Red"], Running(beside, 0));
        Assert.Equal(["Red", "Black"], Running(beside, 1));
        Assert.Equal(["Base", "Red", "Black"], Running(onTop, 0));
    }

    [Theory]
    [InlineData("red 2", null, "Red", "by the word \"red\"")]
    [InlineData("Reds", "#d01030", "Red", "by the word \"red\"")]
    [InlineData("royal-blue", null, "Royal blue", "by its name")]
    [InlineData("Navy blue", null, "Navy", "by the word \"navy\"")]
    [InlineData("blue", null, "Royal blue", "by the word \"blue\", of Royal blue, Light blue the first")]
    [InlineData(
        "blue",
        "#9fc4e8",
        "Light blue",
        "by the word \"blue\", of Royal blue, Light blue the nearest to its colour"
    )]
    [InlineData(
        "golden yellow",
        "#f5b400",
        "Warm yellow",
        "by the word \"yellow\", of Bright yellow, Warm yellow the nearest to its colour"
    )]
    [InlineData("BURGUNDY", null, "Maroon", "by the word \"maroon\"")]
    [InlineData("process yellow", null, "Process yellow", "by its name")]
    public void Names_find_their_ink_and_the_finding_says_how(string name, string? hex, string ink, string how)
    {
        var art = new LayeredTestArt(200, 200).Boxes(name, hex, (10, 10, 190, 190));

        var separation = Separate(art.Sized(60), "plastisol", new(), TestGrounds.White);

        Assert.Equal($"the layer \"{name}\" prints in {ink}: {how}", Said(separation, "layer-ink"));
        Assert.Equal(ink, Assert.Single(separation.Plates).Ink.Name);
    }

    [Fact]
    public void A_name_that_says_nothing_goes_by_its_colour_and_how_far_it_is_off_is_said()
    {
        var onWhite = Separate(
            new LayeredTestArt(200, 200).Boxes("Rot 2", "#c32a2b", (10, 10, 190, 190)).Sized(60),
            "plastisol",
            new(),
            TestGrounds.White
        );
        var finding = Assert.Single(onWhite.Findings, f => f.Code == "layer-ink");

        Assert.Matches("^the layer \"Rot 2\" prints in .*: by its colour #c32a2b, [0-9.]+ dE00 away", finding.Message);
        Assert.Equal("Rot 2", onWhite.Plates[0].Name);
    }

    [Fact]
    public void A_name_and_a_colour_that_disagree_are_a_warning()
    {
        var separation = Separate(
            new LayeredTestArt(200, 200).Boxes("Red", "#1f4fa8", (10, 10, 190, 190)).Sized(60),
            "plastisol",
            new(),
            TestGrounds.White
        );
        var finding = Assert.Single(separation.Findings, f => f.Code == "layer-ink");

        Assert.Equal(FindingWeight.Warning, finding.Weight);
        Assert.Matches(
            "^the layer \"Red\" prints in Red: by its name; but the file shows #1f4fa8, [0-9]+ dE00 away$",
            finding.Message
        );
    }

    [Fact]
    public void A_layer_of_which_nothing_says_the_ink_is_refused_with_the_inks_that_would_do()
    {
        var separation = Separate(
            new LayeredTestArt(200, 200)
                .Boxes("page 1", null, (10, 10, 90, 190))
                .Boxes("Red", null, (110, 10, 190, 190))
                .Sized(60),
            "plastisol",
            new(),
            TestGrounds.White
        );

        Assert.Equal(
            new Finding(
                "layer-without-ink",
                FindingWeight.Refusal,
                "nothing says which ink the layer \"page 1\" prints in: its name is no ink of plastisol, and the file shows it in no colour",
                "name it as one of these: "
                    + string.Join(", ", InkLibrary.OfKind(InkKind.Plastisol).Select(i => i.Name))
            ),
            Assert.Single(separation.Findings, f => f.Weight == FindingWeight.Refusal)
        );
        Assert.Empty(separation.Plates);
    }

    [Fact]
    public void Inks_that_were_given_are_the_only_ones_and_found_by_their_words()
    {
        var harbour = InkLibrary.Find("navy")! with { Id = "own-harbour", Name = "Harbour navy" };
        var settings = new SpotSettings { Inks = InkChoice.Of(harbour, InkLibrary.Find("red")!) };
        var art = new LayeredTestArt(200, 200)
            .Boxes("harbour", null, (10, 10, 90, 190))
            .Boxes("scarlet", "#c8102e", (110, 10, 190, 190));

        var separation = Separate(art.Sized(60), "plastisol", settings, TestGrounds.White);

        Assert.Equal(["own-harbour", "red"], separation.Plates.Select(p => p.Ink.Id));
    }

    [Fact]
    public void Overprinting_layers_are_measured_and_what_the_press_shows_is_said()
    {
        var separation = OnBlack(
            new LayeredTestArt(500, 200)
                .Boxes("Warm yellow", "#f5c400", (10, 10, 490, 190))
                .Boxes("Black", "#101010", (100, 50, 200, 150))
                .Boxes("Royal blue", "#1f4fa8", (300, 50, 400, 150))
        );
        var findings = separation.Findings.Where(f => f.Code == "layers-overprint").ToArray();

        // 100 x 100 px at 480 px over 60 mm.
        Assert.All(findings, f => Assert.Equal(1.6, f.Measured));
        Assert.Equal(2, findings.Length);
        Assert.Matches(
            "^Black prints over Warm yellow on 1.6 cm2, as the layers are drawn; on black it hides it: #[0-9a-f]{6}, [0-9.]+ dE00 from Black alone$",
            findings[0].Message
        );
        Assert.Matches(
            "^Royal blue prints over Warm yellow on 1.6 cm2, as the layers are drawn; on black they give #[0-9a-f]{6} together, [0-9.]+ dE00 from Royal blue alone$",
            findings[1].Message
        );
    }

    [Fact]
    public void The_plates_are_held_against_the_picture_and_the_worst_place_is_named()
    {
        // The picture shows opaque blue on yellow; the press will show something greenish.
        var separation = OnBlack(
            new LayeredTestArt(500, 200)
                .Boxes("Warm yellow", "#f5c400", (10, 10, 490, 190))
                .Boxes("Royal blue", "#1f4fa8", (300, 50, 400, 150))
        );

        Assert.Matches(
            "^on black the plates of the layers print [0-9.]+ dE00 from the picture on average, 95 % of it within [0-9.]+$",
            Said(separation, "layers-against-picture")
        );
        var place = Assert.Single(
            separation.Findings,
            f => f.Code == "layers-off-picture" && f.Message.Contains("Royal blue", StringComparison.Ordinal)
        );
        Assert.Matches(
            "^on black the print is [0-9.]+ dE00 from the picture where Royal blue lies on Warm yellow on Base, 1[0-9](.[0-9])? % of the print, for instance [0-9]+ mm from its left and [0-9]+ mm from its top$",
            place.Message
        );
    }

    [Fact]
    public void An_ink_that_is_far_from_its_colour_is_said_once()
    {
        // The name decides the ink: this "red" is a violet, and stands alone as well as under the yellow.
        var separation = OnBlack(
            new LayeredTestArt(500, 200)
                .Boxes("Red", "#8030c0", (10, 10, 300, 190))
                .Boxes("Warm yellow", "#f5c400", (200, 10, 490, 190))
        );

        Assert.Contains(
            separation.Findings,
            f => f.Code == "far-from-art" && f.Message.StartsWith("Red prints ", StringComparison.Ordinal)
        );
        Assert.DoesNotContain(
            separation.Findings,
            f => f.Code == "layers-off-picture" && f.Message.Contains("where Red ", StringComparison.Ordinal)
        );
        // Where two colours lie on each other it is more than an ink that is off.
        Assert.All(
            separation.Findings.Where(f => f.Code == "layers-off-picture"),
            f => Assert.Contains("where Warm yellow lies on Red", f.Message, StringComparison.Ordinal)
        );
    }

    [Fact]
    public void White_that_prints_grey_is_said_once()
    {
        var separation = OnBlack(
            new LayeredTestArt(500, 200)
                .Boxes("White", "#ffffff", (10, 10, 240, 190))
                .Boxes("Red", "#c8102e", (260, 10, 490, 190))
        );

        Said(separation, "white-is-grey");
        Assert.DoesNotContain(separation.Findings, f => f.Code == "layers-off-picture");
    }

    [Fact]
    public void Knocked_out_layers_in_inks_of_the_shelf_come_near_to_their_picture()
    {
        var finding = Assert.Single(OnBlack(Three()).Findings, f => f.Code == "layers-against-picture");

        Assert.InRange(finding.Measured!.Value, 0.5, 12);
    }

    [Fact]
    public void What_is_on_no_layer_is_a_warning_with_its_area()
    {
        var art = Three().Artwork();
        var picture = new TestArt(500, 200).Rectangle("#20a040", 0, 0, 500, 200).Artwork();

        var sized = ArtSizing.Size(picture with { Layers = art.Layers }, 60, BackgroundChoice.Print);
        var separation = Separate(sized, "plastisol", new(), TestGrounds.White);

        var discs = 3 * Math.PI * 80 * 80;
        Assert.Equal(
            Math.Round((500 * 200 - discs) * 0.12 * 0.12 / 100, 2),
            Assert.Single(separation.Findings, f => f.Code == "not-on-any-layer").Measured!.Value,
            // Antialiased edges of the discs are on a layer in part.
            0.1
        );
    }

    [Fact]
    public void Layers_in_no_colour_have_no_picture_to_be_held_against()
    {
        var separation = Separate(
            new LayeredTestArt(200, 200).Boxes("Red", null, (10, 10, 190, 190)).Sized(60),
            "plastisol",
            new(),
            TestGrounds.White
        );

        Assert.Equal(
            "the file shows its layers in no colour, so there is no picture to hold the plates against: the proof is the first one",
            Said(separation, "layers-without-picture")
        );
    }

    [Theory]
    [InlineData("plastisol", "Base,Red,Warm yellow,Royal blue")]
    [InlineData("water-based", "Base,Red,Warm yellow,Royal blue")]
    [InlineData("discharge", "Red,Warm yellow,Royal blue")]
    [InlineData("simulated-process", "Base,Red,Warm yellow,Royal blue")]
    [InlineData("vinyl", "Red,Warm yellow,Royal blue")]
    [InlineData("plastisol-transfer", "Royal blue,Warm yellow,Red,White backing")]
    public void Methods_of_spot_inks_take_layers(string method, string plates)
    {
        var separation = OnBlack(Three(), method);

        // The cloth of these tests names no dye; that is for discharge to say, and not about layers.
        Assert.DoesNotContain(
            separation.Findings,
            f => f.Weight == FindingWeight.Refusal && f.Code != "cannot-be-discharged"
        );
        Assert.DoesNotContain(separation.Findings, f => f.Code == "layers-flattened");
        Assert.Equal(plates.Split(',').Order(), Names(separation).Order());
    }

    [Theory]
    [InlineData("metallic", "Gold,Silver", "metallic-gold,metallic-silver")]
    [InlineData("foil", "Gold,Silver", "foil-gold,foil-silver")]
    public void Metals_and_foils_are_found_by_their_words(string method, string layers, string inks)
    {
        var names = layers.Split(',');
        var art = new LayeredTestArt(400, 200)
            .Boxes(names[0], null, (10, 10, 190, 190))
            .Boxes(names[1], null, (210, 10, 390, 190));

        var separation = OnBlack(art, method, new() { Base = BaseChoice.None });

        Assert.Equal(inks.Split(','), separation.Plates.Select(p => p.Ink.Id));
        if (method == "foil")
            Assert.All(separation.Plates, p => Assert.Equal(PlatePurpose.Adhesive, p.Purpose));
    }

    [Fact]
    public void A_method_with_inks_of_its_own_flattens_the_layers_and_says_so()
    {
        var separation = OnBlack(Three(), "four-colour-process");

        Assert.Equal(
            "the 3 layers of the file are taken as one picture: four-colour-process makes its colours from inks of its own",
            Said(separation, "layers-flattened")
        );
    }

    [Fact]
    public void Flattened_on_request_the_plates_are_those_of_the_picture()
    {
        var art = Three().Sized(60);
        var settings = new SpotSettings { Layers = LayerChoice.Flatten };

        var flattened = Separate(art, "plastisol", settings, TestGrounds.Black);
        var picture = Separate(
            art with
            {
                Layers = [],
                Artwork = art.Artwork with { Layers = [] },
            },
            "plastisol",
            new(),
            TestGrounds.Black
        );

        Assert.Equal(picture.Plates.Select(p => p.Name), flattened.Plates.Select(p => p.Name));
        Assert.Equal(
            "the 3 layers of the file are taken as one picture, as was asked for: its plates come from its colours",
            Said(flattened, "layers-flattened")
        );
    }

    [Fact]
    public void Solid_methods_cut_a_fade_at_one_half_and_say_how_much()
    {
        var art = new LayeredTestArt(400, 200)
            .Tone("Red", "#c8102e", (x, _) => x / 399.0)
            .Boxes("Royal blue", "#1f4fa8", (0, 0, 400, 40))
            .Sized(120);

        var separation = Separate(art, "metallic", new(), TestGrounds.White);

        Assert.Matches("cm2 of the art is a fade or a tint, metallic has solids only", Said(separation, "no-tones"));
    }
}
