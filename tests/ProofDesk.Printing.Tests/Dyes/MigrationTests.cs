using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Dyes;

/// <summary>Common practice: plastisol on dyed polyester changes for days, white turns pink or grey, a low-bleed base stops it.</summary>
public sealed class MigrationTests
{
    private static readonly GarmentColour RedPolyester = Colour(new(38, 55, 30), (FibreKind.Polyester, 1));

    [Fact]
    public void White_on_red_polyester_turns_pink_within_days()
    {
        var (today, later) = (White(RedPolyester, 0), White(RedPolyester, Migration.UsualDays));

        Assert.InRange(Ciede2000.Difference(today, later), 6, 11);
        Assert.True(later.A > today.A + 3 && later.L < today.L, $"{today} {later}");
    }

    // Charcoal of half polyester, dyed as the shipped tee's is.
    [Fact]
    public void On_a_charcoal_blend_it_is_just_seen()
    {
        var charcoal = Colour(new(33, 0, -2), (FibreKind.Cotton, 0.5), (FibreKind.Polyester, 0.5)) with
        {
            Dyes = [new(DyeKind.Find("vinyl-sulphone-black")!, 1, 0.01), new(DyeKind.Find("disperse-black")!, 1, 1)],
        };

        Assert.InRange(Ciede2000.Difference(White(charcoal, 0), White(charcoal, 7)), 0.6, 2.5);
    }

    [Fact]
    public void On_black_polyester_it_turns_grey()
    {
        var black = Colour(new(17, 0, -1), (FibreKind.Polyester, 1));
        var (today, later) = (White(black, 0), White(black, Migration.UsualDays));

        Assert.True(later.L < today.L - 3, $"{today} {later}");
        Assert.InRange(later.A - today.A, -1, 1);
    }

    [Fact]
    public void It_comes_slowly_and_comes_to_an_end()
    {
        var moved = new[] { 0.1, 1, 3, 7, 14, 100, 1000 }
            .Select(days => Ciede2000.Difference(White(RedPolyester, 0), White(RedPolyester, days)))
            .ToArray();

        for (var i = 1; i < moved.Length; i++)
            Assert.True(moved[i] >= moved[i - 1] - 1e-9, string.Join(", ", moved));
        Assert.True(moved[0] < 0.8, $"{moved[0]} in two hours");
        Assert.Equal(moved[^2], moved[^1], 1e-9);
    }

    [Fact]
    public void A_blocking_base_below_keeps_it_back()
    {
        ImmutableArray<InkPass> blocked = [Pass("blocking-base"), Pass("white"), Pass("white")];

        var moves = Ciede2000.Difference(Lab(RedPolyester, blocked, 0), Lab(RedPolyester, blocked, 7));

        Assert.InRange(moves, 0, Migration.Visible);
        // And costs little: the white over it is nearly the white over itself.
        Assert.InRange(Lab(RedPolyester, blocked, 0).L, White(RedPolyester, 0).L - 3, 100);
    }

    [Fact]
    public void Half_a_polyester_bleeds_about_half_and_cotton_none()
    {
        var half = Colour(new(38, 55, 30), (FibreKind.Cotton, 0.5), (FibreKind.Polyester, 0.5));
        var cotton = Colour(new(38, 55, 30), (FibreKind.Cotton, 1));
        double Moves(GarmentColour c) => Ciede2000.Difference(White(c, 0), White(c, 7));

        Assert.InRange(Moves(half) / Moves(RedPolyester), 0.4, 0.7);
        Assert.Equal(0, Moves(cotton));
        Assert.Null(Migration.WanderingKs(cotton));
    }

    [Fact]
    public void White_polyester_and_fibres_dyed_in_the_melt_do_not_bleed()
    {
        var white = RedPolyester with { Reflectance = ClothSpectra.WhitePolyester() };
        var dark = ClothSpectra.FromLab(new(17, 0, -0.5));
        var heather = RedPolyester with
        {
            Reflectance = ClothSpectra.Heather(ClothSpectra.UndyedCotton(), dark, 0.1),
            HeatherFleck = new(dark, ClothSpectra.UndyedCotton(), 0.1),
        };

        Assert.Null(Migration.WanderingKs(white));
        Assert.Null(Migration.WanderingKs(heather));
    }

    [Fact]
    public void A_garment_that_names_only_dyes_of_its_cotton_does_not_bleed()
    {
        var blend = Colour(new(38, 55, 30), (FibreKind.Cotton, 0.5), (FibreKind.Polyester, 0.5));
        var cottonDyed = blend with { Dyes = [new(DyeKind.Find("azo-reactive-red")!, 1, 0.01)] };
        var bothDyed = blend with { Dyes = [.. cottonDyed.Dyes, new(DyeKind.Find("disperse-red")!, 1, 1)] };

        Assert.Null(Migration.WanderingKs(cottonDyed));
        Assert.NotNull(Migration.WanderingKs(bothDyed));
    }

    [Fact]
    public void Water_based_inks_take_none()
    {
        ImmutableArray<InkPass> passes = [Pass("wb-white-base"), Pass("wb-red")];

        Assert.Equal(passes, Migration.After(RedPolyester, passes, 7));
    }

    private static Lab White(GarmentColour colour, double days) => Lab(colour, [Pass("white"), Pass("white")], days);

    private static Lab Lab(GarmentColour colour, ImmutableArray<InkPass> passes, double days)
    {
        var ground = Cloths.White with { Colour = colour };
        return Cloths.SolidOf(ground, Deposit.Expected, [.. Migration.After(colour, passes, days)]);
    }

    private static InkPass Pass(string ink) => new(InkLibrary.Find(ink)!, Meshes.Find("61-64")!, 1, true);

    private static GarmentColour Colour(Lab lab, params (FibreKind Kind, double Share)[] fibres) =>
        new(
            "colour",
            "Colour",
            ClothSpectra.FromLab(lab),
            [.. fibres.Select(f => new FibreShare(f.Kind, f.Share))],
            0,
            null,
            DataClass.C,
            "made for a test"
        );
}
