using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.ByHand;
using ProofDesk.Printing.Tests.Separations.Mixed;

namespace ProofDesk.Printing.Tests.Separations.ByHand;

/// <summary>Hand work on plates that hold a painting and lettering in it, as the separator makes them: tones are cut out where letters stand.</summary>
public sealed class HandWorkOnMixedArtTests
{
    private static readonly Lazy<Separation> Made = new(() =>
    {
        var method = PrintMethods.Find("simulated-process")!;
        Ink[] inks = [InkLibrary.Find("bright-yellow")!, InkLibrary.Find("red")!, InkLibrary.Find("royal-blue")!];
        var art = MixedPicture.Dusk().Letter("#c8102e", "RIVER", 5, 16, 10).Sized();
        return method.Separate(art, method, [TestGrounds.Black], new() { Inks = InkChoice.Of(inks) }) with
        {
            Press = method.Press,
        };
    });

    private static Plate Red => Made.Value.Plates.Single(p => p.Ink.Id == "red");

    private static Plate Base => Made.Value.Plates.Single(p => p.Purpose.IsBase);

    private static Plate Changed(Plate plate, Func<PlateEdit, PlateEdit> edit) =>
        HandWorkOn.Apply(Made.Value, new([edit(new(plate.Name))]), new()).Plates.Single(p => p.Name == plate.Name);

    /// <summary>Pixels inside the letters, so many pixels from their edge.</summary>
    private static IEnumerable<int> InLetters(double px)
    {
        var inner = MovedEdges.Moved(Red.Solid!, -px);
        return Enumerable.Range(0, inner.Pixels.Length).Where(i => inner.Pixels[i] == 255);
    }

    private static byte At(Plate plate, int pixel) =>
        PlateInk.At(plate, pixel % plate.Tone.Width, pixel / plate.Tone.Width);

    [Fact]
    public void The_letters_are_solids_of_their_plates_and_cut_out_of_the_tones()
    {
        Assert.NotEmpty(InLetters(2));
        Assert.All(InLetters(4), i => Assert.Equal((255, 0), ((int)Red.Solid!.Pixels[i], (int)Red.Shape!.Pixels[i])));
        Assert.NotNull(Base.Solid);
    }

    [Fact]
    public void The_rule_of_a_plate_makes_the_film_it_has()
    {
        foreach (var plate in Made.Value.Plates)
            Assert.Equal(plate.Tone.Pixels, plate.Rule!(plate.Wanted, plate.Screen, plate.Mesh, WeakTones.Cut).Pixels);
    }

    [Fact]
    public void Another_ruling_changes_the_tones_and_leaves_letters_solid()
    {
        var changed = Changed(Red, edit => edit with { LinesPerInch = 30 });

        Assert.Same(Red.Solid, changed.Solid);
        Assert.Same(Red.Shape, changed.Shape);
        Assert.NotEqual(Red.Tone.Pixels, changed.Tone.Pixels);
        // Larger dots grow less: what is open of the film gets darker, nowhere paler but where weak dots are cut.
        var paler = Enumerable
            .Range(0, changed.Tone.Pixels.Length)
            .Count(i => changed.Tone.Pixels[i] > 0 && changed.Tone.Pixels[i] < Red.Tone.Pixels[i] - 1);
        Assert.Equal(0, paler);
    }

    [Fact]
    public void Letters_written_lighter_are_dots_and_do_not_vanish()
    {
        ImmutableArray<double> wedge = [0, 0.06, 0.12, 0.18, 0.24, 0.3, 0.36, 0.42, 0.48, 0.54, 0.6];

        var changed = Changed(Red, edit => edit with { Wedge = wedge });

        Assert.Null(changed.Solid);
        Assert.All(InLetters(0.5), i => Assert.Equal(153, At(changed, i)));
        // Tones are counted by their coverage, letters and painting alike.
        var (before, after) = (PlateInk.AreaMm2(Red, 12), PlateInk.AreaMm2(changed, 12));
        Assert.Equal(0.6 * before, after, 0.01 * before);
    }

    [Theory]
    [InlineData(-100)]
    [InlineData(100)]
    public void A_choke_or_spread_moves_letters_and_opens_no_gap_in_the_base(double um)
    {
        var changed = Changed(Base, edit => edit with { SpreadUm = um });

        // Inside the print, where base stands on both sides of a letter's edge, base stays.
        var within = Base.Tone.Width;
        var gaps = 0;
        for (var y = 60; y < Base.Tone.Height - 60; y++)
        for (var x = 60; x < within - 60; x++)
            if (PlateInk.At(Base, x, y) == 255 && IsFull(x, y) && PlateInk.At(changed, x, y) < 255)
                gaps++;
        Assert.Equal(0, gaps);

        bool IsFull(int x, int y)
        {
            for (var dy = -5; dy <= 5; dy++)
            for (var dx = -5; dx <= 5; dx++)
                if (PlateInk.At(Base, x + dx, y + dy) < 255)
                    return false;
            return true;
        }
    }

    [Fact]
    public void A_choke_draws_the_letters_in_by_what_it_says()
    {
        var changed = Changed(Red, edit => edit with { SpreadUm = -100 });

        // 1.2 px: the length of all edges times the distance, as far as corners allow.
        Assert.Equal(
            MovedEdges.Moved(Red.Solid!, -1.2).Pixels.Sum(p => (long)p),
            changed.Solid!.Pixels.Sum(p => (long)p)
        );
        Assert.True(changed.Solid!.Pixels.Sum(p => (long)p) < Red.Solid!.Pixels.Sum(p => (long)p));
    }

    [Fact]
    public void The_base_is_kept_out_under_letters_too()
    {
        var changed = Changed(Base, edit => edit with { KeepOut = [new(4, 15, 20, 12)] });

        for (var y = 16 * 12; y < 26 * 12; y++)
        for (var x = 5 * 12; x < 23 * 12; x++)
            Assert.Equal(0, PlateInk.At(changed, x, y));
        Assert.Equal(PlateInk.At(Base, 40 * 12, 20 * 12), PlateInk.At(changed, 40 * 12, 20 * 12));
    }

    [Fact]
    public void The_films_of_changed_plates_have_what_the_plates_say()
    {
        var separation = HandWorkOn.Apply(
            Made.Value,
            new([new(Red.Name) { Wedge = [0, .09, .18, .27, .36, .45, .54, .63, .72, .81, .9] }]),
            new()
        );

        var films = FilmMaker.Screen(separation, OutputDevice.Fallback);
        foreach (var film in films.Plates)
            Assert.Equal(
                100 * PlateInk.AreaMm2(film.Plate, 12) / (MixedPicture.WidthMm * MixedPicture.HeightMm),
                FilmMeasure.Of(film, films.Device).CoveragePercent,
                0.5
            );
    }

    [Fact]
    public void The_reading_of_the_wedge_counts_letters_as_full()
    {
        var at = Made.Value.Plates.IndexOf(Red);

        var full = WedgeReading.Of(Made.Value, at, [], PressSettings.Automatic)[^1];

        Assert.True(
            full.AreaCm2 >= Red.Solid!.Pixels.Count(p => p >= 128) / 144.0 / 100,
            $"{full.AreaCm2} cm2 at 100 %"
        );
    }

    [Fact]
    public void Tones_handed_over_close_up_to_the_letters()
    {
        // Red letters in a red field at 80 %: in half-covered pixels of their edge ink is all there is.
        var (tone, open, solid) = (new BytePlane(3, 1), new BytePlane(3, 1), new BytePlane(3, 1));
        (byte Tone, byte Open, byte Solid)[] row = [(204, 255, 0), (204, 127, 128), (204, 0, 255)];
        for (var x = 0; x < 3; x++)
            (tone[x, 0], open[x, 0], solid[x, 0]) = row[x];

        var plate = TonePlate.Of(Red with { Tone = tone, Shape = open, Solid = solid });

        // 128 solid and 80 % of the other 127.
        Assert.Equal([204, 230, 255], plate.Pixels);
    }
}
