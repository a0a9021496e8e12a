using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Choices;

public sealed class InkRulesTests
{
    private static readonly PrintMethod Simulated = PrintMethods.Find("simulated-process")!;
    private static readonly PrintMethod Plastisol = PrintMethods.Find("plastisol")!;

    [Fact]
    public void A_fixed_ink_prints_and_one_ruled_out_does_not()
    {
        var free = Painted(new SpotSettings());
        var ruledOut = free.Plates[1].Ink.Id;

        var ruled = Painted(Rules(must: ["violet"], never: [ruledOut]));

        Assert.DoesNotContain(free.Plates, p => p.Ink.Id == "violet");
        Assert.Contains(ruled.Plates, p => p.Ink.Id == "violet");
        Assert.DoesNotContain(ruled.Plates, p => p.Ink.Id == ruledOut);
        Assert.Equal(6, ruled.Plates.Length);
    }

    [Fact]
    public void Inks_print_in_the_order_that_was_named_between_base_and_highlight()
    {
        string[] Printed(params string[] order) =>
            [
                .. Painted(Rules(order: order) with { Listed = ["red", "bright-yellow", "royal-blue"] })
                    .Plates.Select(p => p.Ink.Id),
            ];

        Assert.Equal(["white", "bright-yellow", "red", "royal-blue", "white"], Printed());
        Assert.Equal(
            ["white", "royal-blue", "red", "bright-yellow", "white"],
            Printed("royal-blue", "red", "bright-yellow")
        );
        // Yellow and blue change places, red keeps its own.
        Assert.Equal(["white", "royal-blue", "red", "bright-yellow", "white"], Printed("royal-blue", "bright-yellow"));
    }

    [Fact]
    public void Four_colour_process_prints_its_inks_in_the_order_that_was_named()
    {
        var process = PrintMethods.Find("four-colour-process")!;
        var settings = Settings(Rules(order: ["black", "process-cyan", "process-magenta", "process-yellow"]));

        var separation = process.Separate(PaintedArt.Dusk(), process, [TestGrounds.White], settings);

        Assert.Equal(
            ["black", "process-cyan", "process-magenta", "process-yellow"],
            separation.Plates.Select(p => p.Ink.Id)
        );
    }

    [Fact]
    public void The_shop_s_own_ink_can_be_fixed()
    {
        var own = InkLibrary.Find("fuchsia")! with { Id = "own-harbour-pink", Name = "Harbour pink" };
        var settings = new SpotSettings
        {
            Inks = InkChoice.Automatic with { Rules = InkRules.None with { Must = [own] } },
        };

        var separation = Simulated.Separate(PaintedArt.Dusk(), Simulated, [TestGrounds.Black], settings);

        Assert.Contains(separation.Plates, p => p.Name == "Harbour pink");
    }

    [Fact]
    public void Spot_art_takes_the_fixed_ink_for_the_colour_nearest_to_it_and_leaves_the_one_ruled_out()
    {
        var free = Spot(new SpotSettings());
        var ruled = Spot(Rules(must: ["orange"], never: ["red"]));
        var turned = Spot(Rules(order: [.. free.Plates.Reverse().Select(p => p.Ink.Id).Where(id => id != "white")]));

        Assert.Contains(free.Plates, p => p.Ink.Id == "red");
        Assert.Contains(ruled.Plates, p => p.Ink.Id == "orange");
        Assert.DoesNotContain(ruled.Plates, p => p.Ink.Id == "red");
        Assert.Equal(
            free.Plates.Select(p => p.Ink.Id).Where(id => id != "white").Reverse(),
            turned.Plates.Select(p => p.Ink.Id).Where(id => id != "white")
        );
    }

    [Fact]
    public void Black_ruled_out_is_not_printed_for_near_black()
    {
        var art = PaintedArt.Of(40, 40, 40, (x, _) => x < 0.5 ? (0.05, 0.05, 0.05, 1) : (0.8, 0.1, 0.1, 1));
        var settings = new SpotSettings
        {
            Inks = InkChoice.Automatic with { Rules = InkRules.None with { Never = ["black"] } },
        };

        var separation = Plastisol.Separate(art, Plastisol, [TestGrounds.White], settings);

        Assert.DoesNotContain(separation.Plates, p => p.Ink.Id == "black");
        Assert.Equal(2, separation.Plates.Length);
    }

    public static TheoryData<string, string[], string[], string[], int?, string, string> Unmet { get; } =
        new()
        {
            {
                "simulated-process",
                ["wb-red"],
                [],
                [],
                null,
                "Red (wb-red) must be used, it is not an ink of simulated-process",
                $"fix one of {Ids("simulated-process")}, or choose the method it belongs to"
            },
            {
                "simulated-process",
                ["red"],
                ["red"],
                [],
                null,
                "Red (red) must be used and must not be used",
                "take it out of one of the two lists"
            },
            {
                "plastisol",
                ["white"],
                [],
                [],
                null,
                "white is the base's ink: it is printed where the cloth asks for it, first and, as a highlight, last",
                "say what goes under the colours instead: base auto, white or none"
            },
            {
                "plastisol",
                [],
                [],
                ["red", "white"],
                null,
                "white is the base's ink: it is printed where the cloth asks for it, first and, as a highlight, last",
                "say what goes under the colours instead: base auto, white or none"
            },
            {
                "simulated-process",
                ["red", "green"],
                [],
                [],
                1,
                "2 inks must be used, 1 colour was asked for",
                "ask for 2 colours or more, or fix fewer inks"
            },
            {
                "four-colour-process",
                ["red"],
                [],
                [],
                null,
                "four-colour-process prints in its own inks: none can be fixed or left out",
                "leave the rules about inks out, or print with simulated-process or a spot method"
            },
            {
                "direct-to-garment",
                [],
                [],
                ["jet-cyan"],
                null,
                "direct-to-garment prints in its own inks: none can be fixed, left out or moved",
                "leave the rules about inks out, or print with simulated-process or a spot method"
            },
        };

    [Theory]
    [MemberData(nameof(Unmet))]
    public void Rules_that_cannot_be_met_say_why(
        string method,
        string[] must,
        string[] never,
        string[] order,
        int? count,
        string what,
        string nextStep
    )
    {
        var chosen = PrintMethods.Find(method)!;
        var settings = Settings(Rules(must, never, order)) with { };
        settings = settings with { Inks = settings.Inks with { Count = count } };

        var refused = Assert.Single(
            chosen.Separate(PaintedArt.Dusk(), chosen, [TestGrounds.Black], settings).Findings,
            f => f.Weight == FindingWeight.Refusal
        );

        Assert.Equal((what, nextStep), (refused.Message, refused.NextStep));
    }

    [Fact]
    public void A_shelf_with_every_ink_ruled_out_is_refused()
    {
        var all = InkLibrary.OfKind(InkKind.Plastisol).Where(i => i.Role != InkRole.White).Select(i => i.Id).ToArray();
        var painted = all.Where(id =>
                !id.StartsWith("opaque-", StringComparison.Ordinal)
                && !id.StartsWith("process-", StringComparison.Ordinal)
            )
            .ToArray();

        var spot = Assert.Single(Spot(Rules(never: all)).Findings, f => f.Weight == FindingWeight.Refusal);
        var tonal = Assert.Single(Painted(Rules(never: painted)).Findings, f => f.Weight == FindingWeight.Refusal);

        Assert.Equal("every ink of plastisol is ruled out", spot.Message);
        Assert.Equal($"allow at least one of {string.Join(", ", all)}", spot.NextStep);
        Assert.Equal("every ink of simulated-process is ruled out", tonal.Message);
        Assert.Equal($"allow at least one of {string.Join(", ", painted.Where(id => id != "black"))}", tonal.NextStep);
    }

    [Fact]
    public void A_list_of_inks_and_rules_for_the_choice_do_not_go_together()
    {
        var both = Painted(Rules(never: ["red"]) with { Listed = ["green", "orange"] });
        var refused = Assert.Single(both.Findings, f => f.Weight == FindingWeight.Refusal);

        Assert.Equal("2 inks are listed by name, and others are fixed or ruled out", refused.Message);
        Assert.Equal("list the inks, or give rules for the choice; an order goes with both", refused.NextStep);
    }

    [Fact]
    public void An_order_that_names_an_ink_which_does_not_print_is_a_warning()
    {
        var separation = Painted(Rules(order: ["green", "maroon"]) with { Listed = ["red", "green"] });
        var unused = Assert.Single(separation.Findings, f => f.Code == "order-names-unused-ink");

        Assert.Equal(FindingWeight.Warning, unused.Weight);
        Assert.Equal(
            "the print order names maroon, which does not print here; this print's inks are red, green",
            unused.Message
        );
        Assert.Equal("take it out of the order, or fix the ink so that it is used", unused.NextStep);
    }

    [Fact]
    public void A_fixed_ink_without_a_colour_to_print_is_a_warning()
    {
        var art = PaintedArt.Of(40, 40, 40, (_, _) => (0.8, 0.1, 0.1, 1));
        var separation = Plastisol.Separate(
            art,
            Plastisol,
            [TestGrounds.White],
            Settings(Rules(must: ["red", "green"]))
        );
        var unused = Assert.Single(separation.Findings, f => f.Code == "fixed-ink-unused");

        Assert.Equal(
            "Green (green) must be used, the art has no colour left for it; this print's inks are red",
            unused.Message
        );
        Assert.Equal("ask for more colours, or do not fix this ink", unused.NextStep);
    }

    private sealed record Asked(string[] Must, string[] Never, string[] Order, string[] Listed);

    private static Asked Rules(string[]? must = null, string[]? never = null, string[]? order = null) =>
        new(must ?? [], never ?? [], order ?? [], []);

    private static SpotSettings Settings(Asked asked) =>
        new()
        {
            Inks = InkChoice.Of(asked.Listed.Select(id => InkLibrary.Find(id)!)) with
            {
                Rules = new([.. asked.Must.Select(id => InkLibrary.Find(id)!)], [.. asked.Never], [.. asked.Order]),
            },
        };

    private static Separation Painted(SpotSettings settings) =>
        Simulated.Separate(PaintedArt.Dusk(), Simulated, [TestGrounds.Black], settings);

    private static Separation Painted(Asked asked) => Painted(Settings(asked));

    private static Separation Spot(Asked asked) => Spot(Settings(asked));

    /// <summary>Red, blue and yellow bars.</summary>
    private static Separation Spot(SpotSettings settings) =>
        Plastisol.Separate(
            PaintedArt.Of(
                90,
                30,
                60,
                (x, _) =>
                    x < 1 / 3.0 ? (0.78, 0.1, 0.12, 1)
                    : x < 2 / 3.0 ? (0.1, 0.2, 0.6, 1)
                    : (0.98, 0.85, 0.1, 1)
            ),
            Plastisol,
            [TestGrounds.Black],
            settings
        );

    private static string Ids(string method) =>
        string.Join(
            ", ",
            InkLibrary
                .OfKind(PrintMethods.Find(method)!.ColourInk)
                .Where(i => i.Role != InkRole.White)
                .Select(i => i.Id)
        );
}
