using System.Collections.Immutable;
using ProofDesk.Adapters.Garments;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Adapters.Tests.Garments;

/// <summary>Obstacles and print areas on the shipped garments.</summary>
public sealed class PlacementChecksTests
{
    private static readonly GarmentCatalogue Catalogue = GarmentCatalogue.Load(
        Path.Combine(GarmentCatalogueTests.RepositoryRoot(), "garments")
    );
    private static readonly Garment Hoodie = Catalogue.Find("hoodie")!;

    [Fact]
    public void A_wide_front_print_runs_over_the_zip_of_the_hoodie()
    {
        var finding = Assert.Single(Check(Hoodie, new(Place.Front, 75, 0, 280), 200, "S", "L"));

        Assert.Equal("obstacle", finding.Code);
        Assert.Equal(FindingWeight.Warning, finding.Weight);
        Assert.Equal("the print runs over the zip of Full-zip hoodie by 28 mm on S and L", finding.Message);
        Assert.Equal("move it, or choose a garment without a zip there", finding.NextStep);
        Assert.Equal((28.0, 0.0, "mm"), (finding.Measured, finding.Limit, finding.Unit));
    }

    [Fact]
    public void A_left_chest_print_beside_the_zip_is_clear_of_it()
    {
        Assert.Empty(Check(Hoodie, Hoodie.Usual(Place.LeftChest, 90), 70));
    }

    [Fact]
    public void A_left_chest_print_close_to_the_zip_is_told_how_far_to_move()
    {
        // Half of 90 mm from 80: 35 mm from the centre line, 21 from the zip, which is 14 to each side.
        var finding = Assert.Single(Check(Hoodie, new(Place.LeftChest, 95, 80, 90), 70, "M"));

        Assert.Equal(
            "the print comes within 21 mm of the zip of Full-zip hoodie in M; 30 mm is needed for the screen to lie flat",
            finding.Message
        );
        Assert.Equal("move it by 9 mm, or make it smaller", finding.NextStep);
        Assert.Equal((21.0, 30.0), (finding.Measured, finding.Limit));
    }

    [Fact]
    public void Left_and_right_are_the_wearers()
    {
        var findings = Check(Hoodie, new(Place.LeftChest, 350, 90, 100), 120, "M");

        Assert.Contains(
            findings,
            f => f.Message.Contains("left half of the kangaroo pocket", StringComparison.Ordinal)
        );
        Assert.DoesNotContain(findings, f => f.Message.Contains("right half", StringComparison.Ordinal));
    }

    [Fact]
    public void The_pocket_is_nearer_on_the_small_sizes()
    {
        // The pocket's top edge is 270 mm above the hem: 345 mm below the collar seam on S, 370 on M, 395 on L.
        var finding = Assert.Single(
            Check(Hoodie, new(Place.LeftChest, 95, 90, 60), 290, "S", "M", "L"),
            f => f.Code == "obstacle"
        );

        Assert.Equal(
            "the print runs over the left half of the kangaroo pocket of Full-zip hoodie by 40 mm on S, 15 mm on M",
            finding.Message
        );
        Assert.Equal(
            "make it at most 45 mm wide, move it, or choose a garment without a pocket there",
            finding.NextStep
        );
    }

    [Fact]
    public void A_print_wider_than_the_smallest_size_takes_is_a_finding()
    {
        var youth = Catalogue.Find("youth-tee")!;

        var all = Assert.Single(
            Check(youth, youth.Usual(Place.Front, 280), 180),
            f => f.Code == "wider-than-print-area"
        );
        var large = Check(youth, youth.Usual(Place.Front, 280), 180, "L", "XL");

        Assert.Equal("the print is 280 mm wide, the front of Youth tee in XS takes 270", all.Message);
        Assert.Equal("make it at most 270 mm wide, or give the small sizes a print of their own", all.NextStep);
        Assert.Equal((280.0, 270.0, "mm"), (all.Measured, all.Limit, all.Unit));
        Assert.Empty(large);
    }

    [Fact]
    public void A_place_the_garment_does_not_have_stops_the_job()
    {
        var finding = Assert.Single(Check(Catalogue.Find("tote")!, Placement.Usual(Place.LeftSleeve, 70), 70));

        Assert.Equal(FindingWeight.Refusal, finding.Weight);
        Assert.Equal("Canvas tote bag has no place left-sleeve", finding.Message);
        Assert.Equal("choose front, back, or another garment", finding.NextStep);
    }

    [Fact]
    public void A_print_all_over_runs_over_everything_and_is_not_told_so()
    {
        var size = Hoodie.Size("L")!;

        Assert.Empty(Check(Hoodie, Hoodie.Shape!.AllOver(size, GarmentSide.Front, 20), 900));
    }

    [Fact]
    public void A_usual_front_print_on_the_tee_is_clear_in_every_size()
    {
        var tee = Catalogue.Find("tee")!;

        Assert.Empty(Check(tee, tee.Usual(Place.Front, 280), 350));
        Assert.Equal(Placement.Usual(Place.Front, 280), tee.Usual(Place.Front, 280));
    }

    private static ImmutableArray<Finding> Check(
        Garment garment,
        Placement placement,
        double heightMm,
        params string[] sizes
    ) => PlacementChecks.Of(garment, placement, heightMm, [.. sizes]);
}
