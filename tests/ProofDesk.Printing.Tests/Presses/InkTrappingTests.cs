using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;
using static ProofDesk.Printing.Tests.Presses.PressBench;

namespace ProofDesk.Printing.Tests.Presses;

public sealed class InkTrappingTests
{
    // Preucil (from memory): densities 1.30 for the overprint, 0.15 for the first and 1.40 for the second ink in its light.
    [Fact]
    public void The_trap_is_what_the_overprint_gained_over_what_the_second_ink_has_alone()
    {
        Assert.Equal(1.15 / 1.40, InkTrapping.Preucil(1.30, 0.15, 1.40), 1e-12);
        Assert.Equal(1, InkTrapping.Preucil(1.55, 0.15, 1.40), 1e-12);
    }

    // Beer's law: without scatter, surface, mottle or sinking in, the reading is the share of ink the deposit model took.
    [Theory]
    [InlineData(false, 0.85)] // wet on wet
    [InlineData(true, 0.9)] // on a flashed film
    public void For_ideal_inks_the_reading_is_the_share_of_film_that_was_taken_up(bool flash, double share)
    {
        var press = PressSettings.Automatic with
        {
            WickedShare = 0,
            BareFibreFirstPass = 0,
            BareFibreOnBase = 0,
            ThicknessCvFirstPass = 0,
            ThicknessCvOnBase = 0,
        };
        ImmutableArray<InkPass> passes =
        [
            new(Clear(450), Meshes.Find("120-34")!, 1, flash),
            new(Clear(600), Meshes.Find("120-34")!, 1, false),
        ];

        var trap = InkTrapping.Trap(new ClothColour(Cloths.White, passes, press, Deposit.Expected), 0, 1, 2);

        Assert.Equal(share, trap!.Value, 1e-3);
    }

    [Fact]
    public void Process_inks_on_a_base_are_read_and_an_opaque_ink_is_not()
    {
        var films = Films(
            (Base(), Solid(Px(2), Px(2))),
            (Screen("process-yellow", "120-34", PlatePurpose.Process), Solid(Px(2), Px(2))),
            (Screen("process-magenta", "120-34", PlatePurpose.Process), Solid(Px(2), Px(2))),
            (Screen("process-cyan", "120-34", PlatePurpose.Process), Solid(Px(2), Px(2))),
            (Spot("white"), Solid(Px(2), Px(2)))
        );

        var read = InkTrapping.Of(films.Separation, films.On(Black), PressSettings.Automatic);

        Assert.Equal(
            [("process-yellow", "process-magenta"), ("process-magenta", "process-cyan")],
            read.Select(o => (o.First, o.Second))
        );
        // Wet on wet takes 0.85 of the film; a yellow below evens out the mottle and so gives some of it back.
        Assert.All(read, o => Assert.InRange(o.ApparentTrap, 0.75, 1.05));
    }

    private static Ink Clear(double nm) =>
        Cloths.Ink("process-yellow") with
        {
            AbsorptionPerUm = Spectrum.From(x => 0.05 * Math.Exp(-Math.Pow((x - nm) / 30, 2))),
            ScatteringPerUm = Spectrum.Flat(0),
            Convention = OpticalConvention.None,
        };
}
