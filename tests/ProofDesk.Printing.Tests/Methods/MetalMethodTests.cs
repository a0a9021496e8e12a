using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Presses;
using ProofDesk.Printing.Tests.Separations;
using static ProofDesk.Printing.Tests.Methods.MethodBench;

namespace ProofDesk.Printing.Tests.Methods;

/// <summary>Foil and metallic ink through the whole pipeline: fact P20 of [PHYSICS] 5 and common practice.</summary>
public sealed class MetalMethodTests
{
    // P20, on a strip as tall as a back print: its top mirrors the softbox, its bottom the dim room.
    [Fact]
    public void Gold_foil_has_its_own_colour_where_it_mirrors_the_softbox_and_is_dark_where_nothing_bright_is_mirrored()
    {
        var foil = Strip("foil", "foil-gold");

        var (bright, dark) = Extremes(foil);

        Assert.InRange(bright.R, 0.8, 1.0);
        Assert.Equal(0.73, bright.G / bright.R, 0.06);
        Assert.Equal(0.37, bright.B / bright.R, 0.06);
        Assert.True(dark.R < 0.5 * bright.R, $"brightest {bright}, darkest {dark}");
        var top = Y(foil.Mean(2, 5, 18, 45));
        var bottom = Y(foil.Mean(2, 235, 18, 275));
        Assert.True(top > bottom + 0.1, $"the softbox is above: {top:0.00} {bottom:0.00}");
    }

    [Fact]
    public void Foil_hides_the_cloth_and_metallic_ink_shows_it_between_its_flakes()
    {
        Lab Diffuse(string method, string ink, Ground ground) => Solids(method, ink, ground).Expected;

        var foil = (Diffuse("foil", "foil-gold", Black), Diffuse("foil", "foil-gold", White));
        var metallic = (Diffuse("metallic", "metallic-gold", Black), Diffuse("metallic", "metallic-gold", White));

        Assert.True(Ciede2000.Difference(foil.Item1, foil.Item2) < 0.01, $"{foil}");
        Assert.True(foil.Item1.L < 25, $"dark at 45/0: {foil.Item1}");
        Assert.True(metallic.Item2.L > metallic.Item1.L + 5, $"{metallic}");
    }

    // Common practice: metallic ink is duller than foil.
    [Fact]
    public void Metallic_ink_is_duller_than_foil()
    {
        var (foil, metallic) = (Extremes(Strip("foil", "foil-gold")), Extremes(Strip("metallic", "metallic-gold")));

        Assert.True(Y(metallic.Bright) < 0.75 * Y(foil.Bright), $"{metallic.Bright} {foil.Bright}");
        Assert.True(
            Y(foil.Bright) / Y(foil.Dark) > 1.5 * Y(metallic.Bright) / Y(metallic.Dark),
            $"foil {foil}, ink {metallic}"
        );
    }

    [Fact]
    public void The_ink_list_has_a_value_at_45_0_and_a_mirrored_one()
    {
        var solid = Solids("foil", "foil-gold", Black);

        Assert.True(solid.Specular!.Value.L > solid.Expected.L + 50, $"{solid.Expected} {solid.Specular}");
        Assert.InRange(solid.Specular.Value.B, 25, 45);
        Assert.Null(Solids("plastisol", "red", Black).Specular);
    }

    [Fact]
    public void Every_metallic_ink_gets_a_mesh_that_its_flakes_pass_and_a_finer_one_is_a_finding()
    {
        var usual = Separate("metallic", Patch("#d4af37"), With(Ink("metallic-gold")), Black);
        var fine = Separate(
            "metallic",
            Patch("#d4af37"),
            With(Ink("metallic-gold")) with
            {
                ColourMesh = Meshes.Find("90-48"),
            },
            Black
        );

        Assert.All(
            MetallicInks.All,
            ink => Assert.True(Meshes.Find("43-80")!.OpeningUm >= 3 * ink.Finish!.FlakeUm, ink.Id)
        );
        Assert.DoesNotContain(usual.Findings, f => f.Code == "mesh-too-fine-for-flakes");
        Assert.Equal(
            new Finding(
                "mesh-too-fine-for-flakes",
                FindingWeight.Warning,
                "\"Metallic gold\" has flakes of 40 um and its 90-48 mesh opens 63 um; 120 um, three flakes, let them through",
                "use 48-70 or a coarser mesh",
                63,
                120,
                "um"
            ),
            fine.Findings.Single(f => f.Code == "mesh-too-fine-for-flakes")
        );
    }

    [Theory]
    [InlineData("#d4af37", "metallic-gold")]
    [InlineData("#c0c0c0", "metallic-silver")]
    [InlineData("#b5654a", "metallic-copper")]
    public void Art_in_the_colour_of_a_metal_gets_that_metallic_ink(string hex, string ink)
    {
        var separation = Separate("metallic", Patch(hex), new() { Base = BaseChoice.None }, Black);

        Assert.Equal(ink, Assert.Single(separation.Plates).Ink.Id);
    }

    [Theory]
    [InlineData("#d4af37", "foil-gold")]
    [InlineData("#c0c0c0", "foil-silver")]
    [InlineData("#c8102e", "foil-red")]
    public void Art_in_the_colour_of_a_foil_gets_that_foil_on_one_adhesive_plate(string hex, string foil)
    {
        var separation = Separate("foil", Patch(hex), new(), Black);

        var plate = Assert.Single(separation.Plates);
        Assert.Equal((foil, PlatePurpose.Adhesive, "32-100"), (plate.Ink.Id, plate.Purpose, plate.Mesh.Label));
        Assert.StartsWith("Adhesive, ", plate.Name, StringComparison.Ordinal);
    }

    // 12 px a mm: a line of 0.25 mm, 30 mm long, 10 mm from the left; a gap of 0.33 mm between two bars.
    [Fact]
    public void Lines_and_gaps_that_foil_does_not_hold_are_said_with_length_and_place()
    {
        var art = new TestArt(480, 480)
            .Rectangle("#d4af37", 0, 0, 60, 480)
            .Rectangle("#d4af37", 120, 60, 123, 420)
            .Rectangle("#d4af37", 240, 60, 300, 420)
            .Rectangle("#d4af37", 304, 60, 480, 420)
            .Sized(40);

        var found = Separate("foil", art, new(), Black).Findings.Where(f => f.Unit == "mm").ToArray();

        Assert.Equal(["foil-lines-too-thin", "foil-gaps-too-thin"], found.Select(f => f.Code));
        Assert.Equal(0.25, found[0].Measured!.Value, 0.03);
        Assert.Equal(0.33, found[1].Measured!.Value, 0.03);
        Assert.Contains("at 10 mm from the left", found[0].Message, StringComparison.Ordinal);
        Assert.Contains("at 25 mm from the left", found[1].Message, StringComparison.Ordinal);
        Assert.EndsWith(": foil breaks there", found[0].Message, StringComparison.Ordinal);
        Assert.EndsWith(": foil fills them", found[1].Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Foil_has_no_halftone_and_says_how_much_of_the_art_is_cut()
    {
        var art = new TestArt(480, 480).Paint((x, y) => ("#d4af37", (x + 1) / 480.0)).Sized(40);

        var separation = Separate("foil", art, new(), Black);

        var finding = separation.Findings.Single(f => f.Code == "no-tones");
        Assert.EndsWith(
            "of the art is a fade or a tint, foil has solids only: it is cut at one half",
            finding.Message,
            StringComparison.Ordinal
        );
        Assert.InRange(finding.Measured!.Value, 8, 16.1);
    }

    [Fact]
    public void The_light_the_two_colours_and_how_they_wear_are_said()
    {
        var foil = Separate("foil", Patch("#d4af37"), new(), Black).Findings;
        var metallic = Separate("metallic", Patch("#d4af37"), new(), Black).Findings;

        foreach (var findings in new[] { foil, metallic })
        {
            Assert.Equal(
                ProofDesk.Printing.Metals.StudioLight.Default.Text,
                findings.Single(f => f.Code == "metal-light").Message
            );
            Assert.Contains(findings, f => f.Code == "metal-has-two-colours");
        }
        Assert.Equal(
            "foil mirrors more than any ink and wears sooner: it loses flakes with each wash, first at edges and where the cloth stretches",
            foil.Single(f => f.Code == "foil-wears").Message
        );
        Assert.Equal(
            "metallic ink is duller than foil and outlives it; with washing it loses some of its gleam and cracks as plastisol does",
            metallic.Single(f => f.Code == "metallic-wears").Message
        );
    }

    [Fact]
    public void Thin_adhesive_misses_foil_and_more_metallic_ink_covers_more()
    {
        var foil = Solids("foil", "foil-gold", White);
        var ink = Solids("metallic", "metallic-silver", Black);

        Assert.True(foil.Light.L > foil.Expected.L + 2, "white cloth shows where foil is missing");
        Assert.True(ink.Light.L < ink.Expected.L && ink.Expected.L < ink.Heavy.L, $"{ink}");
    }

    [Fact]
    public void The_same_seed_gives_the_same_picture_of_a_mirror()
    {
        var separation = Separate("foil", Patch("#d4af37"), new(), Black);

        Assert.True(separation.Print().Print.Pixels.AsSpan().SequenceEqual(separation.Print().Print.Pixels));
    }

    private static ExpectedSolid Solids(string method, string ink, Ground ground)
    {
        var separation = Separate(method, Patch("#d4af37"), With(Ink(ink)) with { Base = BaseChoice.None }, ground);
        return ExpectedSolids.Of(separation, separation.Grounds[0], PressSettings.Automatic).Single();
    }

    private static PrintedCloth Strip(string method, string ink) =>
        Separate(
                method,
                new TestArt(240, 3360).Rectangle("#d4af37", 0, 0, 240, 3360).Sized(20),
                With(Ink(ink)) with
                {
                    Base = BaseChoice.None,
                },
                Black
            )
            .Print();

    /// <summary>The brightest and the darkest 3 mm of a strip 20 x 280 mm.</summary>
    private static (LinearRgb Bright, LinearRgb Dark) Extremes(PrintedCloth cloth)
    {
        var blocks = Enumerable
            .Range(0, 90)
            .SelectMany(j => Enumerable.Range(0, 5).Select(i => cloth.Mean(2 + 3 * i, 3 + 3 * j, 5 + 3 * i, 6 + 3 * j)))
            .OrderBy(Y)
            .ToArray();
        return (blocks[^1], blocks[0]);
    }

    private static double Y(LinearRgb rgb) => Srgb.ToXyz(rgb, ViewingLight.D50).Y / 100;
}
