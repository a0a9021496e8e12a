using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.ByHand;
using ProofDesk.Printing.Separations.Layers;
using ProofDesk.Printing.Tests.Separations.Layers;

namespace ProofDesk.Printing.Tests.Separations.ByHand;

/// <summary>Hand work on plates that were layers: most are solids without a film rule, some hold tones.</summary>
public sealed class HandWorkOnLayersTests
{
    /// <summary>A red box of 140 x 120 px inside a navy fade, which is printed over it.</summary>
    private static Separation Made(SpotSettings? settings = null)
    {
        var method = PrintMethods.Find("plastisol")!;
        var art = new LayeredTestArt(480, 240)
            .Boxes("Red", "#c8102e", (60, 60, 200, 180))
            .Tone("Navy", "#152850", (x, y) => x is >= 20 and < 460 && y is >= 20 and < 220 ? (x - 19) / 441.0 : 0);
        return LayeredArt.Separate(art.Sized(60), method, [TestGrounds.Black], settings ?? new()) with
        {
            Press = method.Press,
        };
    }

    private static Separation On(Separation made, params PlateEdit[] edits) =>
        HandWorkOn.Apply(made, new([.. edits]), new());

    private static Plate PlateOf(Separation separation, string name) => separation.Plates.Single(p => p.Name == name);

    private static double Ink(Separation separation, string name)
    {
        var films = FilmMaker.Screen(separation, OutputDevice.Fallback);
        return FilmMeasure.Of(films.Plates.Single(f => f.Plate.Name == name), films.Device).AreaCm2 * 100;
    }

    [Fact]
    public void A_solid_layer_has_no_film_rule_and_a_fade_has_one()
    {
        var made = Made();

        Assert.Null(PlateOf(made, "Red").Rule);
        Assert.NotNull(PlateOf(made, "Navy").Rule);
    }

    [Fact]
    public void A_solid_layer_stays_what_it_is_on_another_mesh_and_ruling()
    {
        var made = Made();

        var changed = On(
            made,
            new PlateEdit("Red")
            {
                Mesh = "43-80",
                LinesPerInch = 30,
                AngleDegrees = 45,
            }
        );

        var (was, now) = (PlateOf(made, "Red"), PlateOf(changed, "Red"));
        Assert.Equal(("43-80", 30, 45), (now.Mesh.Label, now.Screen.LinesPerInch, now.Screen.AngleDegrees));
        Assert.Equal(was.Tone.Pixels, now.Tone.Pixels);
        Assert.Equal(Ink(made, "Red"), Ink(changed, "Red"));
        Assert.DoesNotContain(
            changed.Findings,
            f => f.Code == "weak-tones" && f.Message.Contains("\"Red\"", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void A_solid_layer_written_lighter_is_dots_of_that_tone()
    {
        var made = Made();
        ImmutableArray<double> wedge = [0, .05, .1, .15, .2, .25, .3, .35, .4, .45, .5];

        var changed = On(made, new PlateEdit("Red") { Wedge = wedge });

        Assert.Equal(0.5 * Ink(made, "Red"), Ink(changed, "Red"), 0.01 * Ink(made, "Red"));
    }

    [Theory]
    [InlineData(150)]
    [InlineData(-150)]
    public void A_solid_layer_moves_its_edges_by_what_it_says(double um)
    {
        var made = Made();
        var perMm = made.PixelsPerMm;
        double Moved(double by) => (140 / perMm + 2 * by) * (120 / perMm + 2 * by);

        var changed = On(made, new PlateEdit("Red") { SpreadUm = um });

        Assert.Equal(Moved(0), Ink(made, "Red"), 0.5);
        Assert.Equal(Moved(um / 1000), Ink(changed, "Red"), 0.5);
    }

    [Fact]
    public void A_base_that_was_made_for_layers_is_kept_out_and_choked()
    {
        var made = Made();
        var name = made.Plates.Single(p => p.Purpose.IsUnderColours).Name;

        var changed = On(made, new PlateEdit(name) { SpreadUm = -100, KeepOut = [new(0, 0, 12, 30)] });

        var (was, now) = (PlateOf(made, name), PlateOf(changed, name));
        var perMm = made.PixelsPerMm;
        for (var y = 0; y < now.Tone.Height; y++)
        for (var x = 0; x < (int)(11.9 * perMm); x++)
            Assert.Equal(0, PlateInk.At(now, x, y));
        Assert.True(PlateInk.AreaMm2(now, perMm) < PlateInk.AreaMm2(was, perMm));
        Assert.True(PlateInk.AreaMm2(now, perMm) > 0);
    }

    [Fact]
    public void Another_ruling_of_a_fade_is_the_film_the_separator_makes_for_it()
    {
        var made = Made();
        var asked = Made(new() { LinesPerInch = 30 });

        var changed = On(made, new PlateEdit("Navy") { LinesPerInch = 30 });

        Assert.NotEqual(PlateOf(made, "Navy").Tone.Pixels, PlateOf(asked, "Navy").Tone.Pixels);
        Assert.Equal(PlateOf(asked, "Navy").Tone.Pixels, PlateOf(changed, "Navy").Tone.Pixels);
    }

    [Fact]
    public void Layers_that_were_not_changed_stay_the_very_same()
    {
        var made = Made();

        var changed = On(made, new PlateEdit("Navy") { SpreadUm = 50, AngleDegrees = 67.5 });

        Assert.Same(PlateOf(made, "Red"), PlateOf(changed, "Red"));
        Assert.Equal(
            made.Findings.Where(f => f.Code.StartsWith("layer", StringComparison.Ordinal)).ToArray(),
            changed.Findings.Where(f => f.Code.StartsWith("layer", StringComparison.Ordinal)).ToArray()
        );
        Assert.StartsWith(
            "\"Navy\" is changed by hand: spread 50 um, 67.5 degrees (22.5 made); its film has ",
            Assert.Single(changed.Findings, f => f.Code == "by-hand").Message,
            StringComparison.Ordinal
        );
    }
}
