using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Proofs;

namespace ProofDesk.Printing.Tests.Screening;

/// <summary>What is said about films before anybody burns them: the words whole, the numbers from the plates.</summary>
public sealed class FilmChecksTests
{
    private static readonly OutputDevice Device = OutputDevice.Fallback;

    private static Separation Plates(double widthMm, double heightMm, params Plate[] plates) =>
        new([.. plates], [], [], widthMm, heightMm, SmallPlates.PixelsPerMm, []);

    private static Plate Tones(string name, Mesh mesh, double lpi, double angle, Func<int, int, byte>? tone = null) =>
        SmallPlates.Plate(name, 80, 80, tone ?? ((_, _) => 128)) with
        {
            Mesh = mesh,
            Screen = new(lpi, angle, DotShape.Elliptical),
        };

    private static Finding[] Of(
        Separation separation,
        OutputDevice? device = null,
        ScreenLayout? layout = null,
        WeakTones weak = WeakTones.Cut
    ) => [.. FilmChecks.Of(separation, device ?? Device, layout ?? ScreenLayout.One, weak).Findings];

    private static Finding Only(Finding[] findings) => Assert.Single(findings);

    [Fact]
    public void Dots_that_beat_with_the_mesh_are_a_warning_with_the_angle_that_would_be_better()
    {
        var fine = Device with { XDpi = 2540, YDpi = 2540 };
        var (red, blue) = (Tones("Red", new(90, 40), 55, 15), Tones("Blue", new(90, 40), 55, 15));

        var finding = Only(Of(Plates(20, 20, red, blue), fine));

        Assert.Equal(("moire", FindingWeight.Warning), (finding.Code, finding.Weight));
        Assert.Matches(
            "^\"Red\", \"Blue\": dots of 55 lpi at 15 degrees beat with the threads of the 90-40 mesh every [4-8]\\.[0-9] mm; above 2 mm one sees bands$",
            finding.Message
        );
        Assert.Equal(
            "turn the screen to 7.5 degrees, where the longest beat is 1.0 mm, or change ruling or mesh",
            finding.NextStep
        );
    }

    [Fact]
    public void A_quiet_screen_of_enough_tones_has_nothing_to_say()
    {
        Assert.Empty(Of(Plates(20, 20, Tones("Red", new(90, 40), 50, 7.5))));
    }

    [Fact]
    public void A_ruling_too_fine_for_the_mesh_names_ruling_and_mesh_that_would_do()
    {
        var finding = Of(Plates(20, 20, Tones("Red", new(43, 80), 55, 22.5, (_, _) => 200)))
            .Single(f => f.Code == "lpi-too-high-for-mesh");

        Assert.Equal(FindingWeight.Warning, finding.Weight);
        Assert.Equal(
            "\"Red\": 55 lpi on the 43-80 mesh is 2.0 threads a line; 2.5 is the least, 3.75 to 5 are usual",
            finding.Message
        );
        Assert.Equal("at most 29 lpi on this mesh, or the 90-48 mesh", finding.NextStep);
        Assert.Equal((2.0, 2.5, "threads a line"), (finding.Measured, finding.Limit, finding.Unit));
    }

    [Fact]
    public void A_ruling_that_is_merely_fine_is_a_note()
    {
        var finding = Of(Plates(20, 20, Tones("Red", new(90, 40), 65, 22.5)))
            .Single(f => f.Code == "lpi-high-for-mesh");

        Assert.Equal(FindingWeight.Note, finding.Weight);
        Assert.Equal(
            "\"Red\": 65 lpi on the 90-40 mesh is 3.5 threads a line; 2.5 is the least, 3.75 to 5 are usual",
            finding.Message
        );
        Assert.Equal("at most 60 lpi on this mesh, or the 120-34 mesh", finding.NextStep);
    }

    /// <summary>Physics 1.13: 600 dpi at 45, 55 and 65 lpi show 178, 120 and 86 tones; 720 at 55 172, 1440 at 65 491.</summary>
    [Theory]
    [InlineData(600, 45, 178)]
    [InlineData(600, 55, 120)]
    [InlineData(600, 65, 86)]
    [InlineData(720, 55, 172)]
    [InlineData(1440, 65, 491)]
    public void Grey_levels_are_counted_as_published(double dpi, double lpi, int levels)
    {
        var device = Device with { XDpi = dpi, YDpi = dpi };

        var report = FilmChecks.Of(
            Plates(20, 20, Tones("Red", new(140, 31), lpi, 22.5)),
            device,
            ScreenLayout.One,
            WeakTones.Cut
        );

        Assert.Equal(levels, report.Plates[0].GreyLevels);
        Assert.Equal(levels < 256, report.Findings.Any(f => f.Code == "few-grey-levels"));
    }

    [Fact]
    public void Few_grey_levels_name_the_ruling_and_the_resolution_that_would_do()
    {
        var device = Device with { XDpi = 600, YDpi = 600 };

        var finding = Of(Plates(20, 20, Tones("Red", new(120, 34), 55, 22.5)), device)
            .Single(f => f.Code == "few-grey-levels");

        Assert.Equal("\"Red\": 55 lpi at 600 dpi shows 120 tones, art has 256: soft fades may step", finding.Message);
        Assert.Equal("37 lpi or less, or a device of 880 dpi or more", finding.NextStep);
    }

    /// <summary>2 d + w of 90-40 is 151 um: 8.4 % at 55 lpi. 5 % tones on the given share of the plate, the rest at 50.</summary>
    private static Plate WeakOn(string name, int percent) =>
        Tones(name, new(90, 40), 55, 22.5, (x, _) => (byte)(x < 80 * percent / 100 ? 13 : 128));

    [Fact]
    public void Films_whose_picture_is_in_small_dots_share_a_finding_the_worst_first()
    {
        Plate[] plates = [WeakOn("Red", 25), WeakOn("Navy", 10), WeakOn("Highlight white", 50)];

        var finding = Only(Of(Plates(20, 20, plates)));

        Assert.Equal(
            ("small-dots", FindingWeight.Warning, 50.0, 20.0),
            (finding.Code, finding.Weight, finding.Measured, finding.Limit)
        );
        Assert.Equal(
            "2 films print 20 % of the inked area or more in dots too small to be sure of; weak tones are cut: \"Highlight white\" 50.0 % under 151 um (8.4 % at 55 lpi, 90-40 mesh), \"Red\" 25.0 % under 151 um (8.4 % at 55 lpi, 90-40 mesh)",
            finding.Message
        );
        Assert.Equal(
            "look for these tones in the proof; a coarser ruling or a finer mesh holds more of them, and the smallest dot can be held instead of cut",
            finding.NextStep
        );
    }

    [Fact]
    public void Small_dots_that_are_held_are_said_to_be_held()
    {
        var finding = Only(Of(Plates(20, 20, WeakOn("Red", 25)), weak: WeakTones.Hold));

        Assert.Equal(
            "1 film prints 20 % of the inked area or more in dots too small to be sure of; weak tones are held: \"Red\" 25.0 % under 151 um (8.4 % at 55 lpi, 90-40 mesh)",
            finding.Message
        );
        Assert.Equal(
            "look for these tones in the proof; a coarser ruling or a finer mesh holds more of them",
            finding.NextStep
        );
    }

    [Fact]
    public void The_weak_end_of_a_fade_is_measured_and_not_said()
    {
        // Every halftone film has it: the share stands in the list of films.
        var fade = Tones("Red", new(90, 40), 55, 22.5, (x, _) => (byte)(255 * x / 79));

        var report = FilmChecks.Of(Plates(20, 20, fade), Device, ScreenLayout.One, WeakTones.Cut);

        Assert.Empty(report.Findings);
        Assert.InRange(report.Plates[0].SmallDotPercent!.Value, 5, 10);
    }

    [Fact]
    public void A_device_that_cannot_draw_so_small_a_dot_is_named()
    {
        var plate = Tones("Red", new(140, 31), 55, 22.5, (x, _) => (byte)(x < 40 ? 13 : 128));

        var finding = Only(Of(Plates(20, 20, plate), Device with { Name = "the back room's", LeastDotUm = 180 }));

        Assert.Equal(
            "1 film prints 20 % of the inked area or more in dots too small to be sure of; weak tones are cut: \"Red\" 50.0 % under 180 um (11.9 % at 55 lpi, the back room's)",
            finding.Message
        );
    }

    [Fact]
    public void Solids_never_meet_their_screen()
    {
        var solid = Tones("Red", new(43, 80), 55, 15, (_, _) => 255);

        var report = FilmChecks.Of(Plates(20, 20, solid), Device, ScreenLayout.One, WeakTones.Cut);

        Assert.Empty(report.Findings);
        Assert.Equal(new PlateCheck(), report.Plates[0]);
    }

    [Fact]
    public void A_base_thinner_than_the_mesh_holds_is_measured_and_found()
    {
        const double PerMm = 20;
        var shape = new Imaging.Rasters.BytePlane(400, 400);
        // 15 mm of a line 0.15 mm wide, 5 mm from the left.
        for (var y = 50; y < 350; y++)
        for (var x = 100; x < 103; x++)
            shape[x, y] = 255;
        for (var y = 50; y < 350; y++)
        for (var x = 200; x < 300; x++)
            shape[x, y] = 255;
        var plate = SmallPlates.Plate("White base", 400, 400, (_, _) => 255) with
        {
            Purpose = PlatePurpose.Base,
            Shape = shape,
        };

        var report = FilmChecks.Of(new([plate], [], [], 20, 20, PerMm, []), Device, ScreenLayout.One, WeakTones.Cut);

        var finding = Assert.Single(report.Findings);
        Assert.Equal("base-strips-too-thin", finding.Code);
        Assert.Matches(
            "^1[45] mm of \"White base\" \\(0\\.02 cm2\\) are strips thinner than 0\\.25 mm, the thinnest 0\\.1[0-9] mm at 5 mm from the left and [0-9]+ mm from the top: the mesh may not hold them, and the colour there lies on bare cloth$",
            finding.Message
        );
        Assert.Equal(15, report.Plates[0].ThinBaseMm!.Value, 1.0);
    }

    [Fact]
    public void A_film_wider_than_the_device_is_refused_with_how_much()
    {
        var device = Device with { Name = "desk printer", LargestWidthMm = 329 };

        var finding = Only(Of(Plates(310, 200, Tones("Red", new(90, 40), 50, 7.5)), device));

        Assert.Equal(("film-wider-than-device", FindingWeight.Refusal), (finding.Code, finding.Weight));
        Assert.Equal(
            "the film is 340.0 mm wide with its margins, desk printer takes 329.0 mm: 11.0 mm too much",
            finding.Message
        );
        Assert.Equal("make the print 299 mm wide or less, or choose a wider device", finding.NextStep);
        Assert.Empty(Of(Plates(299, 200, Tones("Red", new(90, 40), 50, 7.5)), device));
    }

    [Fact]
    public void Several_images_that_do_not_fit_are_refused_by_device_and_by_frame()
    {
        var plate = Tones("Red", new(90, 40), 50, 7.5);
        var layout = new ScreenLayout(3, 2, 20);
        var wide = Device with { Name = "desk printer", LargestWidthMm = 329 };
        var framed = Device with
        {
            Frame = FrameTemplate.Usual with { Name = "small", InnerWidthMm = 320, InnerHeightMm = 260 },
        };

        var byDevice = Only(Of(Plates(90, 90, plate), wide, layout));
        var byFrame = Only(Of(Plates(100, 100, plate), framed, layout));
        var byMarks = Only(Of(Plates(90, 110, plate), framed, layout));
        var oneByMarks = Only(Of(Plates(90, 230, plate), framed));

        Assert.Equal(
            "the film is 340.0 mm wide with its margins, desk printer takes 329.0 mm: 11.0 mm too much",
            byDevice.Message
        );
        Assert.Equal(
            "put fewer images beside each other, make the print 86 mm wide or less, or choose a wider device",
            byDevice.NextStep
        );
        Assert.Equal("6 images, 3 x 2 are 340.0 x 220.0 mm, frame \"small\" has 320 x 260 mm inside", byFrame.Message);
        Assert.Equal("put fewer images on the screen, or choose a larger frame", byFrame.NextStep);
        Assert.Equal(("marks-outside-frame", FindingWeight.Refusal), (byMarks.Code, byMarks.Weight));
        Assert.Equal(
            "6 images, 3 x 2 are 284.0 mm high with the register marks, frame \"small\" has 260.0 mm inside: 24.0 mm too much",
            byMarks.Message
        );
        Assert.Equal(FindingWeight.Warning, oneByMarks.Weight);
        Assert.Equal(
            "the print is 274.0 mm high with the register marks, frame \"small\" has 260.0 mm inside: 14.0 mm too much",
            oneByMarks.Message
        );
    }

    [Fact]
    public void A_device_too_coarse_for_scattered_dots_is_refused_in_words()
    {
        var jetted = Tones("Cyan", new(140, 31), 85, 22.5) with { Screen = Screen.Stochastic(25400 / 720.0, 0) };
        var plates = Plates(20, 20, jetted);

        var finding = Of(plates, Device with { Name = "old plotter", XDpi = 300, YDpi = 300 })
            .Single(f => f.Weight == FindingWeight.Refusal);

        Assert.Equal("dpi-too-low-for-dots", finding.Code);
        Assert.Equal(
            "old plotter writes 300 dpi: scattered dots of 35 um are 720 to the inch, and 360 dpi are the least that show them",
            finding.Message
        );
        Assert.Equal("choose a device of 360 dpi or more", finding.NextStep);
        Assert.DoesNotContain(
            Of(plates, Device with { XDpi = 360, YDpi = 360 }),
            f => f.Weight == FindingWeight.Refusal
        );
    }

    [Fact]
    public void A_device_too_coarse_for_the_ruling_is_refused()
    {
        var coarse = Device with { Name = "old plotter", XDpi = 300, YDpi = 300 };

        var finding = Of(Plates(20, 20, Tones("Red", new(140, 31), 85, 22.5)), coarse)
            .Single(f => f.Weight == FindingWeight.Refusal);

        Assert.Equal("dpi-too-low-for-lpi", finding.Code);
        Assert.Equal(
            "old plotter writes 300 dpi: 3.5 of its dots to a line at 85 lpi, 4 are the least",
            finding.Message
        );
        Assert.Equal("75 lpi or less, or a device of 340 dpi or more", finding.NextStep);
    }

    [Fact]
    public void A_method_without_screens_has_none_to_share()
    {
        var sheet = Tones("White", Mesh.None, 50, 22.5, (_, _) => 255);

        var finding = Only(Of(Plates(20, 20, sheet), layout: new(2, 2, 20)));

        Assert.Equal("no-screens-to-share", finding.Code);
        Assert.Equal("4 images, 2 x 2 on a screen are asked for: this method has no screens", finding.Message);
    }
}
