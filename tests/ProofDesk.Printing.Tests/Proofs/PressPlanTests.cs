using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Presses;
using static ProofDesk.Printing.Tests.Presses.PressBench;

namespace ProofDesk.Printing.Tests.Proofs;

/// <summary>Heads: common practice of the trade; ten heads on dark cloth carry about seven colours.</summary>
public sealed class PressPlanTests
{
    private static readonly PressEquipment TenHeads = PressEquipment.Of(new());

    private static PressPlan Plan(PressEquipment press, params Plate[] plates)
    {
        var films = Films([.. plates.Select(p => (p, Solid(64, 64)))]);
        return PressPlan.Of(films.Separation, films.On(Black), press)!;
    }

    private static Plate[] BaseAnd(int colours) =>
        [Base(), .. InkLibrary.OfKind(InkKind.Plastisol).Skip(2).Take(colours).Select(ink => Spot(ink.Id))];

    [Fact]
    public void A_base_is_followed_by_its_flash_and_an_empty_head()
    {
        var plan = Plan(TenHeads, Base(), Spot("red"), Spot("black"));

        Assert.Equal(
            [HeadTask.Print, HeadTask.Flash, HeadTask.Cool, HeadTask.Print, HeadTask.Print],
            plan.Heads.Take(5).Select(h => h.Task)
        );
        Assert.Equal([1, null, null, 2, 3], plan.Heads.Take(5).Select(h => h.Screen));
        Assert.Equal("white: White, mesh 61-64", plan.Heads[0].Text);
        Assert.Equal((10, 5, 5), (plan.Heads.Length, plan.FreeHeads, plan.ColoursLeft));
        Assert.Empty(plan.Findings);
    }

    [Fact]
    public void Ten_heads_on_dark_carry_seven_colours_over_a_base()
    {
        Assert.Equal(0, Plan(TenHeads, BaseAnd(7)).ColoursLeft);
        Assert.Empty(Plan(TenHeads, BaseAnd(7)).Findings);

        var finding = Assert.Single(Plan(TenHeads, BaseAnd(8)).Findings);
        Assert.Equal(
            new Finding(
                "too-few-heads",
                FindingWeight.Warning,
                "black needs 11 heads (9 prints, the rest flash and cool-down), the press has 10",
                "use fewer inks, or leave out the second base pass or the highlight white",
                11,
                10,
                "heads"
            ),
            finding
        );
    }

    [Fact]
    public void On_a_manual_press_the_flash_swings_in_and_takes_no_head()
    {
        var plan = Plan(PressEquipment.Of(new() { PressClass = PressClass.Manual }), BaseAnd(5));

        Assert.All(plan.Heads, head => Assert.Equal(HeadTask.Print, head.Task));
        Assert.Equal(0, plan.FreeHeads);
        Assert.Equal("white: White, mesh 61-64; then swing the flash in and let it cool", plan.Heads[0].Text);
    }

    [Fact]
    public void Print_flash_print_with_one_flash_unit_is_a_finding()
    {
        var films = Films((Base(), Solid(64, 64)), (Spot("red"), Solid(64, 64)));
        var once = films.On(Black);
        var twice = once with { Runs = [once.Runs[0], .. once.Runs] };

        var plan = PressPlan.Of(films.Separation, twice, TenHeads with { Flashes = 1 })!;

        Assert.Equal(
            [HeadTask.Print, HeadTask.Flash, HeadTask.Print, HeadTask.Flash, HeadTask.Cool, HeadTask.Print],
            plan.Heads.Take(6).Select(h => h.Task)
        );
        Assert.Equal(
            "black is flashed 2 times in one round, the press has 1 flash unit",
            Assert.Single(plan.Findings).Message
        );
    }

    [Fact]
    public void Nothing_that_no_carousel_prints_gets_heads()
    {
        var films = Films((Spot("red") with { Mesh = Mesh.None }, Solid(64, 64)));

        Assert.Null(PressPlan.Of(films.Separation, films.On(Black), TenHeads));
    }

    [Fact]
    public void A_base_and_a_colour_are_felt_and_thin_pigment_is_not()
    {
        var thick = Hand(Base(), Spot("red", "61-64"));
        var thin = Hand(Screen("wb-red", "90-40", PlatePurpose.Spot));

        // 61-64: 35.7 cm3/m2 x .75 transfer, a quarter of it in the cloth: 20 um each.
        Assert.Equal(2 * 35.67 * 0.75 * 0.75, thick.ThickestUm, 1.0);
        Assert.Equal("a film one feels clearly", thick.Words);
        Assert.Equal("hardly felt: it is in the cloth, not on it", thin.Words);
        Assert.True(thick.DryGrams > 5 * thin.DryGrams, $"{thick.DryGrams} g against {thin.DryGrams} g");
    }

    private static HandFeel Hand(params Plate[] plates)
    {
        var films = Films([.. plates.Select(p => (p, Solid(Px(20), Px(20))))]);
        var measures = films.Plates.Select(f => FilmMeasure.Of(f, films.Device, default)).ToImmutableArray();
        return HandFeel.Of(films.Separation, films.On(Black), measures, PressSettings.Automatic);
    }
}
