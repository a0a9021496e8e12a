using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>Laws that hold for every method of the list, every ink of its kinds and every kind of cloth.</summary>
public sealed class PrintLawsTests
{
    private static readonly ImmutableArray<Ground> Grounds =
    [
        Ground("white", ClothSpectra.UndyedCotton(), 1, 0),
        Brightened(Ground("brightened", ClothSpectra.UndyedCotton(), 1, 0)),
        Ground("black", Cloths.Black.Colour.Reflectance, 1, 0, "vinyl-sulphone-black"),
        Ground("red", Cloths.Red.Colour.Reflectance, 1, 0, "azo-reactive-red"),
        Ground("royal", Cloths.Royal.Colour.Reflectance, 1, 0, "anthraquinone-blue"),
        Ground(
            "charcoal half polyester",
            ClothSpectra.FromLab(new(33, 0, -2)),
            .5,
            .5,
            "vinyl-sulphone-black",
            "disperse-black"
        ),
        Ground("white polyester", ClothSpectra.WhitePolyester(), 0, 1),
        Ground("red polyester", Cloths.Red.Colour.Reflectance, 0, 1, "disperse-red"),
        PressBench.Heather,
    ];

    public static TheoryData<string> Methods => [.. PrintMethods.All.Select(m => m.Id)];

    [Theory]
    [MemberData(nameof(Methods))]
    public void Every_ink_on_every_cloth_is_a_finite_colour(string id)
    {
        var method = PrintMethods.Find(id)!;
        foreach (var ground in Grounds)
        foreach (var passes in Stacks(method))
        foreach (var deposit in Enum.GetValues<Deposit>())
        {
            var solid = On(method, ground, deposit, passes).Solid((1UL << passes.Length) - 1);

            for (var i = 0; i < Spectrum.Bands; i++)
                // A mirror or a brightener may send back more than a white; nothing sends back less than no light.
                Assert.True(
                    double.IsFinite(solid[i]) && solid[i] is >= 0 and < 20,
                    $"{ground.Colour.Id}, {string.Join(" + ", passes.Select(p => p.Ink.Id))}, {Spectrum.Nanometres(i)} nm: {solid[i]}"
                );
        }
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void No_ink_is_the_cloth(string id)
    {
        var method = PrintMethods.Find(id)!;
        foreach (var ground in Grounds)
        foreach (var passes in Stacks(method))
        {
            var bare = On(method, ground, Deposit.Expected, passes).Solid(0);

            var cloth = Brightener.Radiance(ground.Colour);
            for (var i = 0; i < Spectrum.Bands; i++)
                Assert.Equal(cloth[i], bare[i], 1e-12);
        }
    }

    // White inks and shining ones aside: a white plastisol is a little whiter than bleached cotton.
    [Theory]
    [MemberData(nameof(Methods))]
    public void More_ink_never_lightens_white_cloth(string id)
    {
        var method = PrintMethods.Find(id)!;
        foreach (
            var ink in InksOf(method)
                .Where(i => i.Role != InkRole.White && i.Kind is not (InkKind.Foil or InkKind.Metallic))
        )
        {
            ImmutableArray<InkPass> passes = [Pass(ink)];
            double Y(ulong code, Deposit deposit) =>
                Tristimulus.Of(On(method, Grounds[0], deposit, passes).Solid(code), ViewingLight.D50).Y;

            double[] y = [Y(0, Deposit.Expected), Y(1, Deposit.Light), Y(1, Deposit.Expected), Y(1, Deposit.Heavy)];

            for (var i = 1; i < y.Length; i++)
                Assert.True(y[i] <= y[i - 1] + 1e-9, $"{ink.Id}: {string.Join(", ", y)}");
        }
    }

    [Theory]
    [MemberData(nameof(Methods))]
    public void The_order_of_two_different_films_matters(string id)
    {
        var method = PrintMethods.Find(id)!;
        var films = InksOf(method).Where(i => i.Kind is InkKind.Plastisol or InkKind.Sheet).Take(8).ToArray();
        foreach (var (one, other) in films.Zip(films.Skip(1)))
        {
            Lab Printed(params ImmutableArray<InkPass> passes) =>
                On(method, Grounds[0], Deposit.Expected, passes).SolidLab(3, ViewingLight.D50);

            var difference = Ciede2000.Difference(Printed(Pass(one), Pass(other)), Printed(Pass(other), Pass(one)));
            Assert.True(difference > 0.5, $"{one.Id} and {other.Id}: {difference:0.00}");
            // And not for an ink on itself.
            Assert.Equal(Printed(Pass(one), Pass(one)), Printed(Pass(one), Pass(one)));
        }
    }

    [Fact]
    public void A_blend_of_fibres_lies_between_them_in_every_band()
    {
        foreach (var pale in Grounds)
        foreach (var dark in Grounds)
        foreach (var share in new[] { 0, 0.1, 0.5, 0.9, 1 })
        {
            var (p, d) = (pale.Colour.Reflectance, dark.Colour.Reflectance);
            var blend = StearnsNoechel.Blend(p, d, share);
            for (var i = 0; i < Spectrum.Bands; i++)
                Assert.InRange(blend[i], Math.Min(p[i], d[i]) - 1e-12, Math.Max(p[i], d[i]) + 1e-12);
        }
    }

    private static InkedCloth On(PrintMethod method, Ground ground, Deposit deposit, ImmutableArray<InkPass> passes) =>
        method.Press.On(ground, passes, method.Press.Settings(PressSettings.Automatic), deposit);

    private static Ink[] InksOf(PrintMethod method) => [.. InkLibrary.OfKind(method.ColourInk)];

    /// <summary>Each colour alone, and on the method's base where it has one and the two can be stacked.</summary>
    private static IEnumerable<ImmutableArray<InkPass>> Stacks(PrintMethod method)
    {
        var white = InkLibrary.OfKind(method.BaseInk).FirstOrDefault(i => i.Role == InkRole.White);
        foreach (var ink in InksOf(method))
        {
            yield return [Pass(ink)];
            if (white is not null && white.Convention == ink.Convention)
                yield return [Pass(white) with { FlashAfter = true }, Pass(ink)];
        }
    }

    private static Ground Brightened(Ground ground) =>
        ground with
        {
            Colour = ground.Colour with { BrightenerPeak = 0.25 },
        };

    private static InkPass Pass(Ink ink) => new(ink, Meshes.Find("61-64")!, 1, false);

    private static Ground Ground(string id, Spectrum reflectance, double cotton, double polyester, params string[] dyes)
    {
        var colour = new GarmentColour(
            id,
            id,
            reflectance,
            [new(FibreKind.Cotton, cotton), new(FibreKind.Polyester, polyester)],
            0,
            null,
            DataClass.C,
            "made for a test"
        )
        {
            Dyes = [.. dyes.Select(d => DyeKind.Find(d)!).Select(k => new DyeShare(k, 1, k.ResidualShare))],
        };
        return Cloths.White with { Colour = colour };
    }
}
