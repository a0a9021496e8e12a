using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.ByHand;
using ProofDesk.Printing.Tests.Methods;
using ProofDesk.Printing.Tests.Proofs;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.ByHand;

public class HandWorkOnTests
{
    private static Separation Separate(string method, SizedArt art, SpotSettings settings, params Ground[] grounds)
    {
        var found = PrintMethods.Find(method)!;
        return found.Separate(art, found, [.. grounds], settings) with { Press = found.Press };
    }

    private static Separation On(Separation made, params PlateEdit[] edits) =>
        HandWorkOn.Apply(made, new([.. edits]), new());

    private static readonly Lazy<Separation> CrestOnBlack = new(() =>
        Separate("plastisol", Crest.Sized(), new(), TestGrounds.Black)
    );

    private static readonly Lazy<SizedArt> Faded = new(() =>
        new TestArt(600, 300).Paint((x, _) => ("#0057b8", x / 599.0)).Sized(60)
    );

    private static Plate PlateOf(Separation separation, string name) => separation.Plates.Single(p => p.Name == name);

    private static Finding Said(Separation separation, string code) =>
        Assert.Single(separation.Findings, f => f.Code == code);

    /// <summary>Ink of a row in px, from film or plate.</summary>
    private static double Chord(BytePlane plane, int y)
    {
        var row = plane.Row(y);
        var (first, last) = (row.IndexOfAnyExcept((byte)0), row.LastIndexOfAnyExcept((byte)0));
        return last - first - 1 + (row[first] + row[last]) / 255.0;
    }

    /// <summary>20 px/mm: bars of these widths in px, 180 px long, on one plate.</summary>
    private static Separation Bars(params double[] widths)
    {
        var shape = new BytePlane(600, 200);
        var left = 20.0;
        foreach (var width in widths)
        {
            PolygonFill.Fill(
                shape,
                [
                    [(left, 10), (left + width, 10), (left + width, 190), (left, 190)],
                ]
            );
            left += width + 20;
        }
        var solid = MovedEdges.Filled(shape);
        var plate = new Plate(
            "White base",
            PlatePurpose.Base,
            InkLibrary.Find("white")!,
            Meshes.Find("61-64")!,
            new(35, 22.5, DotShape.Elliptical),
            solid,
            shape,
            solid,
            1,
            true
        );
        return new([plate], [], [], 30, 10, 20, []);
    }

    [Fact]
    public void Without_hand_work_a_separation_is_the_very_same()
    {
        Assert.Same(CrestOnBlack.Value, On(CrestOnBlack.Value, new PlateEdit("Red")));
        Assert.Same(CrestOnBlack.Value, HandWorkOn.Apply(CrestOnBlack.Value, HandWork.None, new()));
    }

    /// <summary>Lettering in painted art is a solid of its own over the tones of its plate.</summary>
    private static Separation Lettering(params double[] widths)
    {
        var bars = Bars(widths);
        var plate = bars.Plates[0];
        var tone = new BytePlane(plate.Tone.Width, plate.Tone.Height);
        tone.Pixels.AsSpan().Fill(51);
        return bars with { Plates = [plate with { Tone = tone, Shape = null, Wanted = tone, Solid = plate.Shape }] };
    }

    [Fact]
    public void Solids_in_painted_art_spread_with_their_plate()
    {
        var changed = PlateOf(On(Lettering(40), new PlateEdit("White base") { SpreadUm = 100 }), "White base");

        Assert.Equal(44, Chord(changed.Solid!, 100), 0.05);
    }

    [Fact]
    public void Solids_in_painted_art_are_kept_out_of_a_rectangle()
    {
        var changed = PlateOf(
            On(Lettering(40), new PlateEdit("White base") { KeepOut = [new(2, 0, 20, 10)] }),
            "White base"
        );

        Assert.Equal(20, Chord(changed.Solid!, 100), 0.05);
    }

    [Fact]
    public void Solids_in_painted_art_that_are_written_lighter_are_tones()
    {
        ImmutableArray<double> wedge = [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5];

        var changed = PlateOf(On(Lettering(40), new PlateEdit("White base") { Wedge = wedge }), "White base");

        Assert.Null(changed.Solid);
        Assert.Equal(128, changed.Tone[40, 100]);
        Assert.Equal(26, changed.Tone[300, 100]);
    }

    [Fact]
    public void Asking_for_what_a_plate_has_changes_nothing()
    {
        var made = PlateOf(CrestOnBlack.Value, "Red");

        var changed = On(
            CrestOnBlack.Value,
            new PlateEdit("Red")
            {
                LinesPerInch = made.Screen.LinesPerInch,
                AngleDegrees = 22.5,
                Dot = DotShape.Elliptical,
                Mesh = made.Mesh.Label,
                WeakTones = WeakTones.Cut,
                Strokes = 1,
                FlashAfter = false,
            }
        );

        Assert.Same(made, PlateOf(changed, "Red"));
        Assert.Equal(CrestOnBlack.Value.Findings.ToArray(), changed.Findings.ToArray());
    }

    [Theory]
    [InlineData(26, 14)] // 10 % made
    [InlineData(77, 38)] // 30 %: 26 to 30 % on the line between
    [InlineData(128, 50)]
    [InlineData(204, 75)]
    [InlineData(255, 90)]
    public void Film_coverage_follows_the_wedge(int made, double percent)
    {
        var plate = SmallPlates.Plate("Red", 120, 120, (_, _) => (byte)made) with { Mesh = Meshes.Find("120-34")! };
        var separation = new Separation([plate], [], [], 30, 30, SmallPlates.PixelsPerMm, []);
        ImmutableArray<double> wedge = [0, 0.14, 0.26, 0.38, 0.44, 0.5, 0.58, 0.66, 0.75, 0.83, 0.9];

        var changed = On(separation, new PlateEdit("Red") { Wedge = wedge });

        var film = FilmMaker.Screen(changed, OutputDevice.Fallback);
        Assert.Equal(percent, FilmMeasure.Of(film.Plates[0], film.Device).CoveragePercent, 0.5);
        Assert.Same(plate.Wanted, changed.Plates[0].Wanted);
        Assert.Same(plate, changed.Plates[0].Made);
    }

    [Fact]
    public void A_solid_follows_the_last_step_and_becomes_dots()
    {
        var made = CrestOnBlack.Value;
        ImmutableArray<double> wedge = [0, 0.08, 0.16, 0.24, 0.32, 0.4, 0.48, 0.56, 0.64, 0.72, 0.8];

        var changed = On(made, new PlateEdit("Red") { Wedge = wedge });

        double Ink(Separation of) =>
            FilmMeasure
                .Of(
                    FilmMaker.Screen(of, OutputDevice.Fallback).Plates[of.Plates.IndexOf(PlateOf(of, "Red"))],
                    OutputDevice.Fallback
                )
                .CoveragePercent;
        Assert.Equal(0.8 * Ink(made), Ink(changed), 0.3);
        Assert.Equal(
            "\"Red\" is changed by hand: wedge 0 8 16 24 32 40 48 56 64 72 80 %; its film has 9.83 cm2 of ink, 12.28 cm2 as made",
            Said(changed, "by-hand").Message
        );
        Assert.Equal(
            "nothing, or take the change out to have the film as it was made",
            Said(changed, "by-hand").NextStep
        );
        Assert.Same(made.Plates[0], changed.Plates[0]);
    }

    [Theory]
    [InlineData(100)]
    [InlineData(37)]
    [InlineData(-100)]
    [InlineData(-43)]
    public void Edges_move_by_micrometres_far_below_a_pixel(double um)
    {
        var changed = On(CrestOnBlack.Value, new PlateEdit("Red") { SpreadUm = um });

        // 11.6 px/mm: 100 um are 1.16 px on each side.
        var before = Chord(PlateOf(CrestOnBlack.Value, "Red").Shape!, 290);
        var after = Chord(PlateOf(changed, "Red").Shape!, 290);
        Assert.Equal(before + 2 * um / 1000 * changed.PixelsPerMm, after, 0.15);
    }

    [Fact]
    public void A_choke_by_hand_does_what_it_says_where_the_separators_own_yields()
    {
        // 1 mm, .4 mm and .2 mm: a choke of 150 um leaves .7 mm, .1 mm and nothing.
        var changed = On(Colour(Bars(20, 8, 4)), new PlateEdit("Red") { SpreadUm = -150 });

        var row = changed.Plates[0].Shape!.Row(100).ToArray();
        Assert.Equal(14 + 2, row.Sum(v => v) / 255.0, 0.3);
        Assert.Matches(
            "^lines of \"Red\" thinner than 0\\.30 mm are gone: [89] mm of them, the thinnest \\(0\\.20 mm\\) at 4\\.5, [0-9.]+ mm from the top left$",
            Said(changed, "by-hand-lines-gone").Message
        );
        Assert.Equal("choke it less, or thicken them in the art", Said(changed, "by-hand-lines-gone").NextStep);
        Assert.Matches(
            "^\"Red\" is left with [89] mm of strips thinner than the 0\\.23 mm that hold on a 61-64 mesh, the thinnest \\(0\\.1[01] mm\\) at 3\\.2, [0-9.]+ mm from the top left$",
            Said(changed, "by-hand-thin-strips").Message
        );
        Assert.Equal(
            "the choke of 150 um takes 52 % of the ink off \"Red\": 0.07 of 0.14 cm2 are left",
            Said(changed, "by-hand-shaved").Message
        );
    }

    private static Separation Colour(Separation bars) =>
        bars with
        {
            Plates = [bars.Plates[0] with { Name = "Red", Purpose = PlatePurpose.Spot }],
        };

    [Fact]
    public void A_spread_wider_than_a_gap_closes_it_and_says_where()
    {
        var made = Bars(40, 40);
        var shape = made.Plates[0].Shape!;
        // From 20 to 60 and from 80 to 120 px: the gap is made .3 mm wide.
        PolygonFill.Fill(
            shape,
            [
                [(60, 10), (74, 10), (74, 190), (60, 190)],
            ]
        );

        var changed = On(made, new PlateEdit("White base") { SpreadUm = 200 });

        Assert.Equal(255, changed.Plates[0].Shape![77, 100]);
        Assert.Matches(
            "^gaps of \"White base\" thinner than 0\\.40 mm are closed: [89] mm of them, the thinnest \\(0\\.30 mm\\) at 3\\.[89], [0-9.]+ mm from the top left$",
            Said(changed, "by-hand-gaps-closed").Message
        );
        Assert.Equal("spread it less", Said(changed, "by-hand-gaps-closed").NextStep);
    }

    [Fact]
    public void A_plate_that_is_choked_away_is_blank_and_said_so()
    {
        var changed = On(Bars(4, 8), new PlateEdit("White base") { SpreadUm = -300 });

        var finding = Said(changed, "by-hand-blank");
        Assert.Equal("nothing is left on the film of \"White base\": 0.05 cm2 of ink as made", finding.Message);
        Assert.Equal("take the change back, or leave the ink out so that no screen is made for it", finding.NextStep);
        Assert.Equal(FindingWeight.Warning, finding.Weight);
        Assert.Equal(0, changed.Plates[0].Shape!.Pixels.Max());
    }

    [Fact]
    public void A_wedge_of_nothing_leaves_a_blank_film()
    {
        var changed = On(CrestOnBlack.Value, new PlateEdit("Red") { Wedge = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0] });

        Assert.Equal(
            "nothing is left on the film of \"Red\": 12.28 cm2 of ink as made",
            Said(changed, "by-hand-blank").Message
        );
        var films = FilmMaker.Screen(changed, OutputDevice.Fallback);
        Assert.Equal(0, FilmMeasure.Of(films.Plates[1], films.Device).InkPixels);
    }

    [Fact]
    public void A_wedge_that_begins_above_nothing_lays_a_veil()
    {
        var separation = Separate("plastisol", Faded.Value, new(), TestGrounds.White);

        var changed = On(
            separation,
            new PlateEdit(separation.Plates[0].Name) { Wedge = [0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1] }
        );

        var finding = Said(changed, "by-hand-veil");
        Assert.StartsWith(
            $"the wedge of \"{separation.Plates[0].Name}\" begins at 5 %: ",
            finding.Message,
            StringComparison.Ordinal
        );
        Assert.EndsWith(" cm2 inside its outline that had no ink get some", finding.Message, StringComparison.Ordinal);
        Assert.InRange(finding.Measured!.Value, 0.5, 3);
    }

    [Fact]
    public void Another_ruling_by_hand_is_the_film_the_separator_makes_for_it()
    {
        var made = Separate("plastisol", Faded.Value, new(), TestGrounds.White);
        var asked = Separate("plastisol", Faded.Value, new() { LinesPerInch = 30 }, TestGrounds.White);

        var changed = On(made, new PlateEdit(made.Plates[0].Name) { LinesPerInch = 30 });

        Assert.NotEqual(made.Plates[0].Tone.Pixels, asked.Plates[0].Tone.Pixels);
        Assert.Equal(asked.Plates[0].Tone.Pixels, changed.Plates[0].Tone.Pixels);
        Assert.Equal(asked.Plates[0].Screen, changed.Plates[0].Screen);
        Assert.Equal(
            asked.Findings.Where(f => f.Code == "weak-tones").Select(f => f.Limit),
            changed.Findings.Where(f => f.Code == "weak-tones").Select(f => f.Limit)
        );
    }

    [Fact]
    public void Another_mesh_or_held_dots_by_hand_are_the_film_the_separator_makes_for_them()
    {
        var mesh = Meshes.Find("77-55")!;
        SpotSettings settings = new() { LinesPerInch = 45 };
        var made = Separate("plastisol", Faded.Value, settings, TestGrounds.White);
        var asked = Separate(
            "plastisol",
            Faded.Value,
            settings with
            {
                ColourMesh = mesh,
                WeakTones = WeakTones.Hold,
            },
            TestGrounds.White
        );

        var changed = HandWorkOn.Apply(
            made,
            new([new(made.Plates[0].Name) { Mesh = "77-55", WeakTones = WeakTones.Hold }]),
            settings
        );

        Assert.Equal(mesh, changed.Plates[0].Mesh);
        Assert.Equal(asked.Plates[0].Tone.Pixels, changed.Plates[0].Tone.Pixels);
        Assert.Equal("mesh 77-55 (90-40 made), weak tones hold (cut made)", changed.Plates[0].ByHand);
        // What was said about the mesh as made no longer holds.
        Assert.DoesNotContain(
            changed.Findings,
            f => f.Code == "weak-tones" && f.Message.Contains("90-40", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Painted_art_is_compensated_again_over_its_base()
    {
        SpotSettings three = new() { Inks = InkChoice.Of(InkLibrary.Find("red")!, InkLibrary.Find("bright-yellow")!) };
        var made = Separate("simulated-process", PaintedArt.Dusk(), three, TestGrounds.Black);
        var asked = Separate(
            "simulated-process",
            PaintedArt.Dusk(),
            three with
            {
                LinesPerInch = 45,
            },
            TestGrounds.Black
        );

        var changed = On(made, [.. made.Plates.Select(p => new PlateEdit(p.Name) { LinesPerInch = 45 })]);

        Assert.Equal(made.Plates.Length, changed.Findings.Count(f => f.Code == "by-hand"));
        foreach (var (plate, i) in changed.Plates.Select((p, i) => (p, i)))
            if (asked.Plates[i].Wanted.Pixels.AsSpan().SequenceEqual(plate.Wanted.Pixels))
                Assert.Equal(asked.Plates[i].Tone.Pixels, plate.Tone.Pixels);
            else
                // Another ruling may be solved a little differently; dots of the same wanted tone are the same.
                Assert.NotEqual(made.Plates[i].Tone.Pixels, plate.Tone.Pixels);
        Assert.DoesNotContain(changed.Findings, f => f.Code == "by-hand-screens-beat");
    }

    [Fact]
    public void Edges_between_tones_move_and_flat_tones_stay()
    {
        // 8 px/mm; left half 30 %, right half 80 %.
        var plane = new BytePlane(240, 160);
        for (var y = 0; y < 160; y++)
        for (var x = 0; x < 240; x++)
            plane[x, y] = (byte)(x < 120 ? 77 : 204);
        var shape = new BytePlane(240, 160);
        PolygonFill.Fill(
            shape,
            [
                [(20, 20), (220, 20), (220, 140), (20, 140)],
            ]
        );
        var plate = SmallPlates.Plate("Red", 240, 160, (_, _) => 0) with
        {
            Tone = plane,
            Wanted = plane,
            Shape = shape,
        };
        var made = new Separation([plate], [], [], 30, 20, 8, []);

        // 300 um are 2.4 px.
        var spread = On(made, new PlateEdit("Red") { SpreadUm = 300 }).Plates[0];
        var choked = On(made, new PlateEdit("Red") { SpreadUm = -300 }).Plates[0];

        Assert.Equal(204, spread.Tone[118, 80]);
        Assert.Equal(77, spread.Tone[116, 80]);
        Assert.Equal(77, choked.Tone[121, 80]);
        Assert.Equal(204, choked.Tone[123, 80]);
        Assert.Equal(200 + 4.8, Chord(spread.Shape!, 80), 0.1);
        Assert.Equal(200 - 4.8, Chord(choked.Shape!, 80), 0.1);
        // The tone reaches past the new outline, or the edge would be screened as a fade.
        Assert.Equal(77, spread.Tone[16, 80]);
        Assert.Equal(204, spread.Tone[223, 80]);
        Assert.Equal(77, choked.Tone[22, 80]);
        Assert.Equal(204, choked.Tone[217, 80]);
    }

    [Fact]
    public void Rectangles_keep_the_base_out_to_the_tenth_of_a_pixel()
    {
        var made = CrestOnBlack.Value;

        var changed = On(made, new PlateEdit("White base") { KeepOut = [new(20, 22, 8, 5.05), new(70, 3, 5, 5)] });

        // 11.6 px/mm: from 232 to 324.8 px, down to 313.78 px.
        var shape = PlateOf(changed, "White base").Shape!;
        Assert.Equal(0, shape[240, 300]);
        Assert.Equal(Math.Round(255 * 0.2), shape[324, 300] + 0.0, 1.0);
        Assert.Equal(255, shape[326, 300]);
        Assert.Equal(Math.Round(255 * 0.22), shape[240, 313] + 0.0, 1.5);
        Assert.Same(PlateOf(made, "Red"), PlateOf(changed, "Red"));
        Assert.Equal("kept out of 2 rectangles (0.41 cm2)", PlateOf(changed, "White base").ByHand);
        Assert.Equal(
            "rectangle 2 of \"White base\" begins at 70, 3 mm, outside the print of 50 x 50 mm",
            Said(changed, "by-hand-keep-out-outside").Message
        );
    }

    [Fact]
    public void A_colour_is_not_kept_out()
    {
        var changed = On(CrestOnBlack.Value, new PlateEdit("Red") { KeepOut = [new(1, 1, 5, 5)] });

        var finding = Said(changed, "by-hand-keep-out-colour");
        Assert.Equal(FindingWeight.Refusal, finding.Weight);
        Assert.Equal(
            "rectangles keep a base out, \"Red\" is a spot colour and would leave a hole in the print",
            finding.Message
        );
        Assert.Equal("put them on the base, or change the art where the colour should not print", finding.NextStep);
    }

    [Fact]
    public void A_plate_that_is_not_there_is_named_with_those_that_are()
    {
        var changed = On(
            CrestOnBlack.Value,
            new PlateEdit("Rad") { SpreadUm = 50 },
            new PlateEdit("Ochre") { Strokes = 2 }
        );

        Assert.Equal(
            [
                "the hand work on 'Rad' is left out: the plates are White base, Red; did you mean 'Red'?",
                "the hand work on 'Ochre' is left out: the plates are White base, Red",
            ],
            changed.Findings.Where(f => f.Code == "by-hand-no-plate").Select(f => f.Message)
        );
        Assert.All(changed.Plates, (plate, i) => Assert.Same(CrestOnBlack.Value.Plates[i], plate));
    }

    [Theory]
    [InlineData("direct-to-garment", "\"Cyan\" cannot be changed by hand: its ink is jetted, no film is made of it")]
    [InlineData("vinyl", "\"Red\" cannot be changed by hand: it is cut from a sheet, no film is made of it")]
    [InlineData(
        "sublimation",
        "\"Cyan\" cannot be changed by hand: its dye is printed on paper by a machine, no film is made of it"
    )]
    public void Where_no_film_is_made_nothing_is_changed_on_it(string method, string message)
    {
        var ground =
            method == "sublimation" ? MethodBench.Tee("White", ClothSpectra.UndyedCotton(), 0) : TestGrounds.Black;
        var made = Separate(method, Crest.Sized(), new(), ground);
        var name = made.Plates.First(p => message.Contains('"' + p.Name.Split(' ')[0], StringComparison.Ordinal)).Name;

        var changed = On(made, new PlateEdit(name) { SpreadUm = 40 });

        var finding = Said(changed, "by-hand-no-film");
        Assert.Equal(FindingWeight.Refusal, finding.Weight);
        Assert.Equal(message.Replace(message.Split('"')[1], name, StringComparison.Ordinal), finding.Message);
        Assert.Equal("take the hand work out, and change the art or the settings of the print", finding.NextStep);
    }

    [Fact]
    public void A_number_no_film_can_have_is_refused_wherever_it_comes_from()
    {
        var changed = On(CrestOnBlack.Value, new PlateEdit("Red") { SpreadUm = 700 });

        Assert.Equal(
            "\"Red\" cannot be changed by hand like that: a spread of 700 um, -500 (choke) to 500 um are possible",
            Said(changed, "by-hand-not-possible").Message
        );
    }

    [Fact]
    public void Strokes_and_flash_are_changed_in_every_run()
    {
        var made = Separate("plastisol", Crest.Sized(), new() { PrintFlashPrint = true }, TestGrounds.Black);

        var changed = On(made, new PlateEdit("White base") { Strokes = 2, FlashAfter = false });

        var runs = changed.Grounds[0].Runs;
        Assert.Equal([2, 2, 1], runs.Select(r => r.Strokes));
        Assert.Equal([true, false, false], runs.Select(r => r.FlashAfter));
        Assert.Equal("2 strokes (1 made), not flashed after it (made so)", changed.Plates[0].ByHand);
    }

    [Fact]
    public void Screens_a_little_apart_beat()
    {
        var art = new TestArt(600, 300)
            .Rectangle("#ffd100", 0, 0, 300, 300)
            .Rectangle("#ffd100", 300, 0, 600, 300, alpha: 0.5)
            .Sized(60);
        var made = Separate("plastisol", art, new() { LinesPerInch = 45 }, TestGrounds.Black);

        var turned = On(made, new PlateEdit(made.Plates[0].Name) { AngleDegrees = 27.5 });
        var far = On(made, new PlateEdit(made.Plates[0].Name) { AngleDegrees = 52.5 });

        // 45 lpi turned by 5 degrees against itself: .564 mm / (2 sin 2.5 degrees).
        Assert.Equal(
            0.5644 / (2 * Math.Sin(2.5 * Math.PI / 180)),
            ScreenBeat.PeriodMm(turned.Plates[0].Screen, made.Plates[0].Screen),
            0.01
        );
        Assert.Equal(
            $"the dots of \"{made.Plates[0].Name}\" (45 lpi, 27.5 degrees) and \"{made.Plates[1].Name}\" (45 lpi, 22.5 degrees) draw a pattern of 6.5 mm on each other, 2 mm is visible",
            Said(turned, "by-hand-screens-beat").Message
        );
        Assert.DoesNotContain(far.Findings, f => f.Code == "by-hand-screens-beat");
    }

    [Fact]
    public void Stochastic_dots_have_no_angle()
    {
        var made = Separate("plastisol", Faded.Value, new(), TestGrounds.White);
        var name = made.Plates[0].Name;

        var changed = On(made, new PlateEdit(name) { Dot = DotShape.Stochastic, AngleDegrees = 30 });

        var plate = changed.Plates[0];
        // As small as a 90-40 mesh holds every one of them: 2 x 40 + 71 um.
        Assert.Equal(plate.Mesh.SafeFeatureUm, 25400 / plate.Screen.LinesPerInch, 1e-6);
        Assert.Equal(
            $"\"{name}\" has stochastic dots: they have no angle, the 30 degrees given change nothing",
            Said(changed, "by-hand-angle-unused").Message
        );
        Assert.Equal("168 dots per inch (50 lpi made), stochastic dots (elliptical made)", Rounded(plate.ByHand!));

        static string Rounded(string words) =>
            System.Text.RegularExpressions.Regex.Replace(words, @"\.\d+ dots", " dots");
    }

    [Fact]
    public void Tones_handed_over_carry_the_wedge()
    {
        var plate = SmallPlates.Plate("Red", 40, 40, (_, _) => 128);
        var separation = new Separation([plate], [], [], 10, 10, SmallPlates.PixelsPerMm, []);

        var changed = On(
            separation,
            new PlateEdit("Red") { Wedge = [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.4, 0.55, 0.7, 0.85, 1] }
        );

        // 50.2 % made are 25.3 % on film.
        Assert.Equal(64.5, TonePlate.Of(changed.Plates[0])[20, 20], 0.6);
    }

    [Fact]
    public void The_film_says_that_it_was_changed_by_hand()
    {
        var changed = On(CrestOnBlack.Value, new PlateEdit("Red") { SpreadUm = -100, Strokes = 2 });
        var films = FilmMaker.Screen(changed, OutputDevice.Fallback);
        var label = new FilmLabel("-", "-", "1", 2, 2, "a", new string('0', 64), true);

        Assert.Contains(
            "CHANGED BY HAND: CHOKE 100 UM, 2 STROKES (1 MADE)",
            label.Lines(films.Plates[1], films.Device, ScreenLayout.One)
        );
        Assert.DoesNotContain(
            label.Lines(films.Plates[0], films.Device, ScreenLayout.One),
            line => line.Contains("HAND", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void A_file_to_begin_with_names_every_plate_and_changes_nothing()
    {
        var text = HandWorkTemplate.Write(CrestOnBlack.Value, WeakTones.Cut);

        var (work, problems) = HandWorkText.Read(text, "by-hand.json");
        Assert.Empty(problems);
        Assert.Equal(["White base", "Red"], work.Plates.Select(p => p.Plate));
        Assert.True(work.IsNone);
        Assert.Equal(
            """
            {
              // what is left out stays as it was made; docs/light-table.md says what each number does
              "plates": [
                // base and white: "linesPerInch": 35, "angleDegrees": 22.5, "dot": "elliptical", "mesh": "61-64", "weakTones": "cut", "strokes": 1, "flashAfter": true
                { "plate": "White base", "wedgePercent": [0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100], "spreadUm": 0 },
                // spot colour: "linesPerInch": 35, "angleDegrees": 22.5, "dot": "elliptical", "mesh": "61-64", "weakTones": "cut", "strokes": 1, "flashAfter": false
                { "plate": "Red", "wedgePercent": [0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100], "spreadUm": 0 },
              ]
            }

            """.ReplaceLineEndings("\n"),
            text
        );
    }
}
