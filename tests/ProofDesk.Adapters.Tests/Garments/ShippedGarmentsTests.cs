using ProofDesk.Adapters.Garments;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Adapters.Tests.Garments;

/// <summary>What holds for every garment in the garments folder.</summary>
public sealed class ShippedGarmentsTests
{
    private static readonly GarmentCatalogue Catalogue = GarmentCatalogue.Load(
        Path.Combine(GarmentCatalogueTests.RepositoryRoot(), "garments")
    );

    public static TheoryData<string> Ids => [.. Catalogue.Garments.Select(g => g.Id)];

    [Fact]
    public void Five_garments_ship()
    {
        Assert.Equal(["hoodie", "long-sleeve", "tee", "tote", "youth-tee"], Catalogue.Garments.Select(g => g.Id));
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Each_comes_in_white_black_red_and_a_50_50_heather(string id)
    {
        var garment = Catalogue.Find(id)!;

        Assert.All(new[] { "white", "black", "red", "heather-50-50" }, c => Assert.NotNull(garment.Colour(c)));
        Assert.All(garment.Colours, c => Assert.Equal(1, c.Fibres.Sum(f => f.Share), 3));
        Assert.All(garment.Colours, c => Assert.NotEqual("", c.Source));
        Assert.Equal(0.5, Sublimation.PolyesterShare(garment.Colour("heather-50-50")!), 3);
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void A_heather_lies_between_its_fibres_in_every_band(string id)
    {
        foreach (var colour in Catalogue.Find(id)!.Colours.Where(c => c.HeatherFleck is not null))
        {
            var fleck = colour.HeatherFleck!;
            for (var band = 0; band < Spectrum.Bands; band++)
                Assert.InRange(colour.Reflectance[band], fleck.DarkFibre[band], fleck.PaleFibre[band]);
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Every_dark_solid_colour_names_its_dyes(string id)
    {
        Assert.All(
            Catalogue
                .Find(id)!
                .Colours.Where(c => c.HeatherFleck is null && Tristimulus.Of(c.Reflectance, ViewingLight.D65).Y < 45),
            c => Assert.NotEmpty(c.Dyes)
        );
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Both_sides_are_drawn_in_the_smallest_and_largest_size(string id)
    {
        var garment = Catalogue.Find(id)!;
        var ground = new Ground(garment, garment.Colours[0]);

        foreach (var size in LongCounts.Asked ? garment.Sizes : [garment.Sizes[0], garment.Sizes[^1]])
        foreach (var side in Enum.GetValues<GarmentSide>())
        {
            var picture = WornGarment.Draw(ground, size.Size, side, [], ViewingLight.D65, 0.25, 1);
            Assert.True(picture.Width > size.ChestMm * 0.25, $"{size.Size} {side}: {picture.Width} px wide");
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void A_small_print_at_each_usual_place_needs_no_warning_on_any_size(string id)
    {
        var garment = Catalogue.Find(id)!;

        foreach (var place in garment.Shape!.Places.Select(p => p.Place))
        {
            // The middle of a full zip is no place for a print, however small.
            if (id == "hoodie" && place == Place.Front)
                continue;
            Assert.Empty(PlacementChecks.Of(garment, garment.Usual(place, 40), 20, []));
        }
    }

    [Fact]
    public void Dischargeable_and_sublimatable_grounds_are_what_the_trade_takes()
    {
        var tee = Catalogue.Find("tee")!;

        Assert.Equal(
            ["red", "royal", "navy", "forest", "charcoal", "black", "tri-blend"],
            tee.Colours.Where(c => Discharge.Refusal(c) is null).Select(c => c.Id)
        );
        Assert.Equal(
            ["heather-50-50", "poly-white", "poly-pale-grey"],
            tee.Colours.Where(c => Sublimation.Refusal(c) is null).Select(c => c.Id)
        );
    }

    [Fact]
    public void Discharge_on_the_tri_blend_leaves_its_polyester_as_it_was()
    {
        var colour = Catalogue.Find("tee")!.Colour("tri-blend")!;

        var fibres = ClothFibre.Of(colour);

        Assert.Equal(
            [(FibreKind.Cotton, 0.25, true), (FibreKind.Viscose, 0.25, true), (FibreKind.Polyester, 0.5, false)],
            fibres.Select(f => (f.Kind, f.Share, f.Dyed))
        );
        Assert.True(
            Tristimulus.Of(Discharge.Cloth(colour, 30), ViewingLight.D65).Y
                > 3 * Tristimulus.Of(colour.Reflectance, ViewingLight.D65).Y
        );
    }

    [Fact]
    public void White_polyester_is_white_polyester_and_not_cotton()
    {
        var white = Catalogue.Find("tee")!.Colour("poly-white")!;

        Assert.Equal(ClothSpectra.WhitePolyester().Values.ToArray(), white.Reflectance.Values.ToArray());
        Assert.Equal(1, Sublimation.PolyesterShare(white));
    }
}
