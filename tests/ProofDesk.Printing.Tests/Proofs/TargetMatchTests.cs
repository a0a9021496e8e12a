using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Proofs;

public sealed class TargetMatchTests
{
    private static readonly Lab YellowOnWhite = InkSwatch.Printed(
        Cloths.Ink("bright-yellow"),
        Cloths.White,
        Cloths.Mesh("61-64"),
        ViewingLight.D50
    );

    [Fact]
    public void An_ink_without_a_target_gets_no_verdict()
    {
        Assert.Null(Match(Cloths.Ink("red"), Cloths.White));
    }

    [Fact]
    public void A_target_taken_from_the_print_itself_is_met_exactly()
    {
        var match = Match(Yellow(YellowOnWhite, 2), Cloths.White)!;

        Assert.Equal(0, match.DeltaE, 1e-6);
        Assert.Equal((true, true), (match.IsWithin, match.CanBeReached));
        Assert.Equal("dE00 0.0 to target, within 2", match.Verdict);
    }

    [Fact]
    public void Yellow_on_black_cannot_reach_its_colour_without_a_base_and_can_with_one()
    {
        var match = Match(Yellow(YellowOnWhite, 3), Cloths.Black)!;

        Assert.False(match.IsWithin);
        Assert.True(match.WithoutBase.DeltaE > 8, $"{match.WithoutBase.DeltaE:0.0}");
        Assert.True(match.CanBeReached, match.Verdict);
        Assert.True(match.Best.BasePasses > 0);
        Assert.Matches(
            "^dE00 [0-9]+\\.[0-9] to target, not within 3; can be reached on this ground: [0-2]\\.[0-9] with 1 pass, "
                + "(light|expected|heavy) deposit, on a white base( printed twice)?$",
            match.Verdict
        );
    }

    [Fact]
    public void A_colour_the_ink_does_not_have_cannot_be_reached_on_any_ground()
    {
        foreach (var ground in new[] { Cloths.White, Cloths.Black, Cloths.Red })
        {
            var match = Match(Yellow(new(30, 20, -60), 2), ground)!;

            Assert.False(match.CanBeReached);
            Assert.Contains(
                "not within 2; cannot be reached on this ground: ",
                match.Verdict,
                StringComparison.Ordinal
            );
            Assert.True(match.Best.DeltaE <= match.WithoutBase.DeltaE);
            Assert.True(match.Best.DeltaE > 30);
        }
    }

    // The same spectrum has another Lab under another light, and the target says which one it means.
    [Fact]
    public void The_targets_light_is_the_one_the_prediction_is_made_for()
    {
        var ink = Cloths.Ink("violet");
        var d65 = InkSwatch.Printed(ink, Cloths.White, Cloths.Mesh("61-64"), ViewingLight.D65);

        var match = Match(ink with { Target = new(d65, 1, ViewingLight.D65) }, Cloths.White)!;
        var wrongLight = Match(ink with { Target = new(d65, 1, ViewingLight.D50) }, Cloths.White)!;

        Assert.Equal(0, match.DeltaE, 1e-6);
        Assert.True(wrongLight.DeltaE > 1, $"{wrongLight.DeltaE:0.00}");
    }

    [Fact]
    public void A_white_is_never_tried_on_a_white_base()
    {
        var match = Match(
            Cloths.Ink("white") with
            {
                Target = new(new(92, -1, 2), 2, ViewingLight.D50),
            },
            Cloths.Black
        )!;

        Assert.Equal((0, 2), (match.Best.BasePasses, match.Best.Passes));
    }

    [Fact]
    public void The_ink_list_carries_target_verdict_and_formula_to_its_csv()
    {
        var ink = Yellow(YellowOnWhite, 3) with { Formula = new([new("Yellow paste", 300), new("Clear base", 700)]) };
        var match = Match(ink, Cloths.Black)!;
        var row = Row(match) with { Mix = ink.Formula!.For(300) };

        var csv = InkListCsv.Write([new(Cloths.Black, [row])]).Split("\r\n");

        Assert.Contains(
            ",data class,caution,target L*,target a*,target b*,target light,tolerance dE00,dE00 to target,within tolerance,can be reached,best dE00,best with,formula grams,",
            csv[0],
            StringComparison.Ordinal
        );
        Assert.Contains(",D50,3,", csv[1], StringComparison.Ordinal);
        Assert.EndsWith(
            $",no,yes,{Number(match.Best.DeltaE)},\"{match.Best.Words}\",Yellow paste 90; Clear base 210,,,",
            csv[1],
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_missed_target_is_a_finding_with_what_would_help_and_a_met_one_is_none()
    {
        var reached = Match(Yellow(YellowOnWhite, 3), Cloths.Black)!;
        var never = Match(Yellow(new(30, 20, -60), 2), Cloths.Black)!;
        var met = Match(Yellow(YellowOnWhite, 2), Cloths.White)!;
        InkList List(TargetMatch match) => new(Cloths.Black, [Row(match)]);

        var findings = TargetFindings.Of([List(reached), List(never), List(met)]).ToArray();

        Assert.Equal(2, findings.Length);
        Assert.All(findings, f => Assert.Equal(("ink-misses-target", FindingWeight.Warning), (f.Code, f.Weight)));
        Assert.Equal((reached.DeltaE, 3.0, "dE00"), (findings[0].Measured, findings[0].Limit, findings[0].Unit));
        Assert.Equal(
            FormattableString.Invariant(
                $"a solid of Bright yellow on tee/colour is expected {reached.DeltaE:0.0} dE00 from its target, 3 passes"
            ),
            findings[0].Message
        );
        Assert.Equal(
            FormattableString.Invariant($"print it with {reached.Best.Words}: {reached.Best.DeltaE:0.0} dE00"),
            findings[0].NextStep
        );
        Assert.Equal(
            FormattableString.Invariant(
                $"this ink cannot reach it on this ground, {never.Best.DeltaE:0.0} dE00 at best with {never.Best.Words}; agree another colour for this ground, or mix another ink"
            ),
            findings[1].NextStep
        );
    }

    private static InkListRow Row(TargetMatch match) =>
        new(
            1,
            "Yellow",
            "spot colour",
            "Bright yellow",
            "plastisol",
            "61-64",
            61,
            64,
            null,
            null,
            "none (line art)",
            1,
            false,
            10,
            20,
            35.7,
            12,
            300,
            default,
            default,
            default,
            "C"
        )
        {
            Target = match,
        };

    private static string Number(double value) =>
        Math.Round(value, 2, MidpointRounding.AwayFromZero)
            .ToString("0.###", System.Globalization.CultureInfo.InvariantCulture);

    private static Ink Yellow(Lab target, double tolerance) =>
        Cloths.Ink("bright-yellow") with
        {
            Target = new(target, tolerance, ViewingLight.D50),
        };

    // One screen with this ink in it, alone on the ground.
    private static TargetMatch? Match(Ink ink, Ground ground)
    {
        var plate = SmallPlates.Plate("only", 8, 8, (_, _) => 255) with { Ink = ink };
        var plan = new GroundPlan(ground, [new(0, true, ink, 1, false, "")]);
        var separation = new Separation([plate], [plan], [], 2, 2, SmallPlates.PixelsPerMm, []);
        var solid = ExpectedSolids.Of(separation, plan, PressSettings.Automatic).Single();
        return TargetMatches.Of(separation, plan, PressSettings.Automatic, solid);
    }
}
