using System.Collections.Immutable;
using ProofDesk.Printing.Advice;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Advice;

/// <summary>Which methods can, which cannot, and why: sentences whole, with their numbers and where these come from.</summary>
public sealed class AdvisorTests
{
    [Fact]
    public void Flat_art_on_black_asks_for_spot_inks_and_says_why_not_for_others()
    {
        var trials = Tried(
            Logo,
            TestGrounds.Black,
            "plastisol",
            "simulated-process",
            "vinyl",
            "sublimation",
            "cut-and-sew",
            "direct-to-garment"
        );

        var advice = Advisor.Of(trials, RateCard.CommonPractice, 12);

        Assert.Equal(
            [
                ("vinyl", Standing.Can),
                ("plastisol", Standing.Can),
                ("direct-to-garment", Standing.CanWithCaution),
                ("simulated-process", Standing.CanWithCaution),
                ("sublimation", Standing.Cannot),
                ("cut-and-sew", Standing.Cannot),
            ],
            advice.Select(a => (a.Method.Id, a.Standing))
        );
        Assert.Equal(
            [
                "Can: It takes 3 screens and 5 of the 10 heads of the automatic press on black, 2 of them for flash and cool-down. [counted; heads of the press: common practice]",
                "Can: Its lines hold: none was found thinner than 0.25 mm, and no type under 8 pt. [measured in the art; limit: common practice, physics 1.5 and 3.3]",
                "Can: Its hand on black: a film one feels clearly (40 um where most lies on each other, 0.12 g of dry ink in all). [computed, physics 1.5; words: common practice]",
                "Can: A film that is fused through lasts as long as the shirt and cracks late; one that is not washes off, so a test wash comes before the run. [common practice, from memory]",
                "Can: 12 pieces cost 10.88 each: 48 % of that is 3 screens, made and set up once. [rate card: common practice; the money is an example]",
            ],
            Said(advice, "plastisol")
        );
        Assert.Equal(
            [
                "Cannot: Black is 0 % polyester and sublimation dyes no other fibre; 35 % is the least, 65 % looks good. Choose another method or another garment. [physics 1.10, common practice]",
            ],
            Said(advice, "sublimation")
        );
        Assert.Equal(
            [
                "Cannot: Cut-and-sew covers whole sides of a garment, and this print is 60 mm wide at one place of it. Place the art all over the front or the back, or choose another method. [common practice]",
            ],
            Said(advice, "cut-and-sew")
        );
        Assert.Contains(
            "CanWithCaution: 100 % of the art stands flat in 2 colours: there is nothing to paint, and a spot method prints it without dots and with no more screens than colours and a base. Print it with plastisol or another spot method. [measured in the art]",
            Said(advice, "simulated-process")
        );
        Assert.Contains(
            "CanWithCaution: 12 pieces cost 18.00 each, 2.5 times as much as Cut vinyl, pressed on (7.21): 67 % of that is 7 screens, made and set up once. [rate card: common practice; the money is an example]",
            Said(advice, "simulated-process")
        );
    }

    [Fact]
    public void More_colours_than_stations_stop_a_screen_and_not_a_jet()
    {
        var trials = Tried(Stripes(), TestGrounds.White, "plastisol", "vinyl", "direct-to-garment");

        var advice = Advisor.Of(trials, RateCard.CommonPractice, 500);

        Assert.Equal(["direct-to-garment", "plastisol", "vinyl"], advice.Select(a => a.Method.Id));
        Assert.Equal(
            [
                "Cannot: White needs 12 heads (12 prints, the rest flash and cool-down), the press has 10. Use fewer inks, or leave out the second base pass or the highlight white. [counted; heads of the press: common practice]",
            ],
            Said(advice, "plastisol")
        );
        Assert.Equal(
            [
                "Cannot: The art has 12 colours or more: it may be a photograph, which cannot be cut from sheets. Set the number of colours, redraw it in solid colours, or print it with another method. [measured in the art]",
            ],
            Said(advice, "vinyl")
        );
        Assert.NotEqual(Standing.Cannot, advice[0].Standing);
    }

    [Fact]
    public void Thin_lines_a_wide_print_and_a_stiff_film_are_said_with_their_limits()
    {
        // Lines of 0.2 mm on a print that is wider than the press.
        var lines = TestArt.On(1000, 700, "#c8102e");
        var thin = new TestArt(1000, 700).Rectangle("#c8102e", 0, 0, 1000, 300);
        for (var i = 0; i < 6; i++)
            thin.Rectangle("#c8102e", 20, 320 + 60 * i, 980, 322 + 60 * i);

        var small = Advisor.Of(Tried(thin, TestGrounds.White, 100, "plastisol"), RateCard.CommonPractice, 72)[0];
        var wide = Advisor.Of(Tried(lines, TestGrounds.White, 400, "plastisol"), RateCard.CommonPractice, 72)[0];
        var stiff = Advisor.Of(Tried(lines, TestGrounds.Black, 300, "plastisol-transfer"), RateCard.CommonPractice, 72)[
            0
        ];

        Assert.Equal((Standing.CanWithCaution, Standing.Cannot), (small.Standing, wide.Standing));
        Assert.Equal(
            "The thinnest lines of \"Red\" are 0.20 mm wide, 0.25 mm prints surely on a 77-55 mesh: at best it holds them; 576 mm of lines are too thin. Draw them 0.25 mm wide or wider, 3 px of this art, or place the print 125 mm wide or wider.",
            small.Reasons[0].Sentence
        );
        Assert.Equal(
            "The print is 400 mm wide, the press prints 380. Place it 380 mm wide or less.",
            Assert.Single(wide.Reasons).Sentence
        );
        Assert.Equal(
            "Its hand on black: a thick film; stiff over large areas (86 um where most lies on each other, 7.03 g of dry ink in all). Over 630 cm2 that is stiff and warm to wear.",
            Assert.Single(stiff.Reasons, r => r.Standing == Standing.CanWithCaution).Sentence
        );
    }

    [Fact]
    public void A_hairline_is_said_of_a_jet_without_a_mesh()
    {
        var hair = new TestArt(1000, 700).Rectangle("#c8102e", 0, 0, 1000, 300);
        for (var i = 0; i < 6; i++)
            hair.Rectangle("#c8102e", 20, 320 + 60 * i, 980, 321 + 60 * i);

        var jet = Advisor.Of(Tried(hair, TestGrounds.White, 100, "direct-to-garment"), RateCard.CommonPractice, 10)[0];

        Assert.Contains(
            jet.Reasons,
            r =>
                r.Standing == Standing.CanWithCaution
                && r.Sentence.Contains(" mm wide, a jet lays 0.20 mm surely; ", StringComparison.Ordinal)
        );
        Assert.All(jet.Reasons, r => Assert.DoesNotContain("mesh", r.Sentence, StringComparison.Ordinal));
    }

    [Fact]
    public void A_dyed_polyester_warns_of_wandering_dye_and_of_jetted_pigment()
    {
        var advice = Advisor.Of(Tried(Pale, Polyester, "plastisol", "direct-to-garment"), RateCard.CommonPractice, 48);

        Assert.All(advice, a => Assert.Equal(Standing.CanWithCaution, a.Standing));
        Assert.Contains(
            advice.Single(a => a.Method.Id == "direct-to-garment").Reasons,
            r =>
                r.Sentence
                == "Deep red is 100 % polyester: pigment ink holds on cotton, 50 % of it or more is usual. Test-wash a sample with the pretreatment for polyester, watch the white for the cloth's dye, or print another way."
        );
        Assert.Contains(
            advice.Single(a => a.Method.Id == "plastisol").Reasons,
            r =>
                r.Sentence.StartsWith(
                    "The polyester of deep red is dyed and its dye wanders into plastisol:",
                    StringComparison.Ordinal
                )
                && r.Source == "computed, physics 3.7 (a proposal, not measured)"
        );
    }

    [Fact]
    public void Art_that_nothing_prints_of_cannot_be_printed()
    {
        var white = TestArt.On(60, 40, "#ffffff");

        var advice = Advisor.Of(Tried(white, TestGrounds.White, "plastisol"), RateCard.CommonPractice, 10)[0];

        Assert.Equal(Standing.Cannot, advice.Standing);
        Assert.Null(advice.Cost);
        Assert.Equal(
            "No plate is made: every colour of the art is left to the cloth on white. Print the colour although the cloth has it, or choose another garment colour.",
            Assert.Single(advice.Reasons).Sentence
        );
    }

    private static IEnumerable<string> Said(ImmutableArray<MethodAdvice> advice, string method) =>
        advice.Single(a => a.Method.Id == method).Reasons.Select(r => $"{r.Standing}: {r.Sentence} [{r.Source}]");

    private static TestArt Logo => TestArt.On(180, 90, "#c8102e").Rectangle("#1d3f8f", 60, 0, 120, 90);

    private static TestArt Pale => TestArt.On(180, 90, "#ffffff").Rectangle("#ffe45c", 60, 0, 120, 90);

    private static TestArt Stripes()
    {
        var art = new TestArt(120, 120);
        for (var i = 0; i < 40; i++)
            art.Rectangle($"#{20 + 5 * i:x2}{(i * 37) % 200:x2}{240 - 5 * i:x2}", 3 * i, 0, 3 * i + 3, 120);
        return art;
    }

    private static Ground Polyester
    {
        get
        {
            var red = TestGrounds.Red;
            var colour = red.Colour with { Id = "deep-red", Name = "Deep red", Fibres = [new(FibreKind.Polyester, 1)] };
            return new(red.Garment with { Colours = [colour] }, colour);
        }
    }

    private static ImmutableArray<MethodTrial> Tried(TestArt art, Ground ground, params string[] methods) =>
        Tried(art, ground, 60, methods);

    private static ImmutableArray<MethodTrial> Tried(
        TestArt art,
        Ground ground,
        double widthMm,
        params string[] methods
    ) =>
        [
            .. methods.Select(m =>
                MethodTrial.Of(
                    new ProofRequest(
                        art.Sized(widthMm).Artwork,
                        Placement.Usual(Place.Front, widthMm),
                        PrintMethods.Find(m)!,
                        [ground]
                    )
                )
            ),
        ];
}
