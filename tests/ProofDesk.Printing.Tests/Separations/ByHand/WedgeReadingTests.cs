using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.ByHand;
using ProofDesk.Printing.Tests.Proofs;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.ByHand;

public class WedgeReadingTests
{
    private static Separation Of(Plate plate) => new([plate], [], [], 30, 30, SmallPlates.PixelsPerMm, []);

    private static Plate Ramp() =>
        SmallPlates.Plate("Red", 120, 120, (x, _) => (byte)Math.Min(255, x / 10 * 51 / 2)) with
        {
            Mesh = Meshes.Find("120-34")!,
            Screen = new(55, 22.5, DotShape.Euclidean),
        };

    [Fact]
    public void Fifty_percent_on_film_prints_as_the_table_of_growth_says()
    {
        // Physics 1.15: 55 lpi, growth 20 um, round and Euclidean dots at 10, 30, 50, 70, 90 %: gains 4, 8, 11, 8, 4... within a point.
        var press = PressSettings.Automatic with
        {
            GrowthUm = 20,
        };

        var steps = WedgeReading.Of(Of(Ramp()), 0, [], press);

        Assert.Equal(11, steps.Length);
        Assert.Equal(50 + 12, 100 * steps[5].Printed, 1.0);
        Assert.Equal(0, steps[0].Printed);
        Assert.Equal(1, steps[10].Printed, 1e-9);
        Assert.All(steps.Zip(steps.Skip(1)), pair => Assert.True(pair.First.Printed <= pair.Second.Printed));
    }

    [Fact]
    public void Dots_the_mesh_does_not_hold_print_as_nothing()
    {
        // Physics 1.13: at 55 lpi a 43-80 mesh loses everything under 8.6 %.
        var coarse = Ramp() with
        {
            Mesh = Meshes.Find("43-80")!,
        };

        var steps = WedgeReading.Of(
            Of(coarse),
            0,
            [0, 0.08, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1],
            PressSettings.Automatic
        );

        Assert.Equal(0.08, steps[1].OnFilm);
        Assert.Equal(0, steps[1].Printed);
        Assert.InRange(steps[2].Printed, 0.01, 0.2);
    }

    [Fact]
    public void The_area_of_every_step_is_counted_once()
    {
        var steps = WedgeReading.Of(Of(Ramp()), 0, [], PressSettings.Automatic);

        // 120 x 120 px at 4 px/mm are 9 cm2.
        Assert.Equal(9, steps.Sum(s => s.AreaCm2), 1e-9);
        Assert.Equal(0.75, steps[4].AreaCm2, 1e-9);
        // The last 20 px are solid.
        Assert.Equal(1.5, steps[10].AreaCm2, 1e-9);
    }

    [Fact]
    public void Tones_compensated_by_the_separator_print_as_wanted()
    {
        var method = PrintMethods.Find("simulated-process")!;
        SpotSettings settings = new()
        {
            Inks = InkChoice.Of(InkLibrary.Find("red")!, InkLibrary.Find("bright-yellow")!),
            Base = BaseChoice.None,
        };
        var made = method.Separate(PaintedArt.Dusk(), method, [TestGrounds.White], settings) with
        {
            Press = method.Press,
        };
        var plate = made.Plates[0];
        for (var tone = 1; tone < 10; tone++)
        {
            // The film tone of a wanted tone of 10, 20 ... %, wherever the plate has it.
            var at = Array.IndexOf(plate.Wanted.Pixels, (byte)Math.Round(25.5 * tone));
            if (at < 0 || plate.Tone.Pixels[at] == 0)
                continue;
            var film = plate.Tone.Pixels[at] / 255.0;
            double[] wedge =
            [
                .. Enumerable
                    .Range(0, 11)
                    .Select(i =>
                        i == 10 ? 1
                        : i < tone ? 0
                        : film
                    ),
            ];

            var step = WedgeReading.Of(made, 0, [.. wedge], settings.Press)[tone];

            Assert.Equal(tone / 10.0, step.Printed, 0.02);
        }
    }

    [Fact]
    public void A_colour_on_a_base_prints_darker_than_the_same_on_cloth()
    {
        var top = Ramp();
        var white = SmallPlates.Plate("White base", 120, 120, (_, _) => 255) with { Purpose = PlatePurpose.Base };

        var onCloth = WedgeReading.Of(Of(top), 0, [], PressSettings.Automatic);
        var onBase = WedgeReading.Of(Of(top) with { Plates = [white, top] }, 1, [], PressSettings.Automatic);

        Assert.True(onBase[5].Printed > onCloth[5].Printed + 0.03);
    }
}
