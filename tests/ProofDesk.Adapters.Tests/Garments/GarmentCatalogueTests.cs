using System.Text;
using System.Text.Json.Nodes;
using ProofDesk.Adapters.Garments;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Adapters.Tests.Garments;

public sealed class GarmentCatalogueTests
{
    private static readonly byte[] Tee = File.ReadAllBytes(
        Path.Combine(RepositoryRoot(), "garments", "tee", "garment.json")
    );

    [Fact]
    public void The_shipped_tee_has_the_colours_a_shop_expects()
    {
        var tee = GarmentFile.Parse(Tee, "digest");

        Assert.Equal(
            [
                "white",
                "natural",
                "light-heather",
                "red",
                "royal",
                "navy",
                "forest",
                "charcoal",
                "black",
                "heather-50-50",
                "tri-blend",
                "poly-white",
                "poly-pale-grey",
                "poly-red",
                "poly-black",
            ],
            tee.Colours.Select(c => c.Id)
        );
        Assert.All(tee.Colours, c => Assert.Equal(1, c.Fibres.Sum(f => f.Share), 3));
        Assert.All(tee.Colours, c => Assert.NotEqual("", c.Source));
    }

    [Fact]
    public void The_shipped_tee_names_the_dyes_of_its_dark_colours()
    {
        var tee = GarmentFile.Parse(Tee, "digest");

        Assert.Equal(
            [
                "red",
                "royal",
                "navy",
                "forest",
                "charcoal",
                "black",
                "heather-50-50",
                "tri-blend",
                "poly-pale-grey",
                "poly-red",
                "poly-black",
            ],
            tee.Colours.Where(c => c.Dyes.Length > 0).Select(c => c.Id)
        );
        Assert.Equal(["azo-reactive-violet 0.1", "anthraquinone-blue 0.6"], tee.Colour("royal")!.Dyes.Select(Text));
        Assert.Contains("disperse-black 1", tee.Colour("charcoal")!.Dyes.Select(Text));

        static string Text(DyeShare d) => FormattableString.Invariant($"{d.Dye.Id} {d.ResidualShare}");
    }

    [Fact]
    public void A_dye_on_a_fibre_the_cloth_does_not_have_or_of_unknown_name_is_refused()
    {
        var text = Encoding.UTF8.GetString(Tee);
        var wrongFibre = text.Replace("azo-reactive-red", "disperse-red", StringComparison.Ordinal);
        var unknown = text.Replace("azo-reactive-red", "beetroot", StringComparison.Ordinal);

        Assert.Equal(
            "colours[3].dyes[0].dye: disperse red dyes polyester, of which the cloth has none",
            Refused(wrongFibre)
        );
        Assert.StartsWith("colours[3].dyes[0].dye: \"beetroot\" is no dye known here; vinyl-", Refused(unknown));

        static string Refused(string json) =>
            Assert
                .Throws<GarmentFormatException>(() => GarmentFile.Parse(Encoding.UTF8.GetBytes(json), "digest"))
                .Message;
    }

    [Fact]
    public void Both_sides_are_drawn_in_every_size_and_wider_sizes_are_wider()
    {
        var tee = GarmentFile.Parse(Tee, "digest");

        foreach (var side in new[] { GarmentSide.Front, GarmentSide.Back })
        {
            var body = tee.Shape!.View(side)!.Pieces.Single(p => p.Name == "body");
            var widths = tee.Sizes.Select(s => body.Outline.Flatten(s, 5).Max(p => p.X)).ToArray();
            Assert.Equal(widths.Order(), widths);
            Assert.Equal(tee.Size("L")!.ChestMm / 2, widths[2], 1.0);
        }
    }

    [Theory]
    [InlineData(Place.Front)]
    [InlineData(Place.Back)]
    [InlineData(Place.LeftChest)]
    [InlineData(Place.RightChest)]
    [InlineData(Place.LeftSleeve)]
    [InlineData(Place.RightSleeve)]
    [InlineData(Place.Nape)]
    public void The_tape_measure_has_a_seam_to_start_from(Place place)
    {
        Assert.NotNull(GarmentFile.Parse(Tee, "digest").Shape!.Anchor(place));
    }

    [Theory]
    [InlineData("colours[3].fibres.cotton", "0.9", "colours[3].fibres: the shares add up to 0.9, 1 is needed")]
    [InlineData("sizes[0].chestMm", "12", "sizes[0].chestMm: 12 is outside 100 to 1500")]
    [InlineData("sizes[0].chestMm", "\"wide\"", "sizes[0].chestMm: a number is needed")]
    [InlineData(
        "colours[0].cloth",
        "\"velvet\"",
        "colours[0].cloth: \"velvet\" is not known; one of undyed, lab, heather is needed"
    )]
    [InlineData(
        "colours[3].lab",
        "[50, 0, 150]",
        "colours[3].lab: no cloth has the colour Lab 50.0 0.0 150.0: the nearest smooth reflectance is 22.9 dE00 away; check the sign of a* and b*"
    )]
    [InlineData("colours[1].id", "\"white\"", "colours[1]: \"white\" is there twice; rename or remove one")]
    [InlineData("sizes[2].size", "\"S\"", "sizes[2]: \"S\" is there twice; rename or remove one")]
    [InlineData("sizes", "[]", "sizes: the list is empty, one is needed")]
    [InlineData("weave", "{}", "weave: cloth is knit or woven; remove \"knit\" or \"weave\"")]
    [InlineData(
        "colours[10].darkShare",
        "0.6",
        "colours[10].darkShare: 0.6 is more than the 0.5 of cotton and viscose in the cloth; the dark fibre is cellulose"
    )]
    [InlineData(
        "views[0].obstacles[0].kind",
        "\"button\"",
        "views[0].obstacles[0].kind: \"button\" is not known; one of Pocket, Zip, Seam, Hem, Collar, Strap, Hood is needed"
    )]
    [InlineData(
        "views[0].obstacles[1].name",
        "\"collar\"",
        "views[0].obstacles[1]: \"collar\" is there twice; rename or remove one"
    )]
    [InlineData(
        "views[0].obstacles[0].outline",
        "[\"M 0, 0\", \"L 10, 0\", \"L 10, 10\"]",
        "views[0].obstacles[0].outline: an outline is closed; end it with \"Z\""
    )]
    [InlineData(
        "views[0].obstacles[0].outline",
        "[\"M 0, 0\", \"L 10, 0\", \"L 20, 0\", \"Z\"]",
        "views[0].obstacles[0].outline: the outline encloses nothing in size S; give at least three points that are not on one line"
    )]
    [InlineData(
        "views[0].obstacles[0].outline[0]",
        "\"M pocket, 0\"",
        "views[0].obstacles[0].outline[0]: \"pocket\" is no measure; known are chest, length, shoulder, sleeve, collar, dropFront, dropBack"
    )]
    [InlineData("views[1].side", "\"front\"", "views[1]: \"Front\" is there twice; rename or remove one")]
    [InlineData("places[0].side", "\"back\"", "places[0].side: front is on the front, \"back\" given")]
    [InlineData("places[1].place", "\"front\"", "places[1]: \"front\" is there twice; rename or remove one")]
    [InlineData(
        "places[0].area.width",
        "\"1 chest - 455\"",
        "places[0].area.width: is 5 mm in size S, at least 10 is needed"
    )]
    [InlineData("places[0].usual.fromSeamMm", "5000", "places[0].usual.fromSeamMm: 5000 is outside -500 to 1000")]
    [InlineData("schema", "\"other/2\"", "schema: \"other/2\" is not known, \"proofdesk-garment/1\" is needed")]
    [InlineData(
        "views[0].seams[0].line[0]",
        "\"M -0.5 colar, 0\"",
        "views[0].seams[0].line[0]: \"colar\" is no measure; known are chest, length, shoulder, sleeve, collar, dropFront, dropBack"
    )]
    [InlineData(
        "views[0].seams[0].line[1]",
        "\"C 1, 2; 3, 4\"",
        "views[0].seams[0].line[1]: step C takes 3 points, 2 given"
    )]
    public void A_wrong_field_is_named_with_what_would_be_right(string field, string value, string message)
    {
        var root = JsonNode.Parse(Tee)!;
        Set(root, field, JsonNode.Parse(value)!);

        var problem = Assert.Throws<GarmentFormatException>(() =>
            GarmentFile.Parse(Encoding.UTF8.GetBytes(root.ToJsonString()), "digest")
        );

        Assert.Equal(message, problem.Message);
    }

    [Fact]
    public void A_missing_field_is_named()
    {
        var root = JsonNode.Parse(Tee)!.AsObject();
        root.Remove("knit");

        var problem = Assert.Throws<GarmentFormatException>(() =>
            GarmentFile.Parse(Encoding.UTF8.GetBytes(root.ToJsonString()), "digest")
        );

        Assert.Equal("knit: is missing", problem.Message);
    }

    [Fact]
    public void A_measure_that_a_size_does_not_have_cannot_be_drawn_with()
    {
        var root = JsonNode.Parse(Tee)!;
        root["sizes"]![3]!.AsObject().Remove("collarMm");

        var problem = Assert.Throws<GarmentFormatException>(() =>
            GarmentFile.Parse(Encoding.UTF8.GetBytes(root.ToJsonString()), "digest")
        );

        Assert.Equal(
            "views[0].pieces[0].outline[0]: \"collar\" is used, but not every size has a collarMm; add it to the sizes",
            problem.Message
        );
    }

    [Fact]
    public void Two_garments_of_one_name_are_refused_with_the_file_of_the_second()
    {
        var folder = Directory.CreateTempSubdirectory("garments-");
        try
        {
            foreach (var name in new[] { "first", "second" })
            {
                Directory.CreateDirectory(Path.Combine(folder.FullName, name));
                File.WriteAllBytes(Path.Combine(folder.FullName, name, "garment.json"), Tee);
            }

            var problem = Assert.Throws<GarmentFormatException>(() => GarmentCatalogue.Load(folder.FullName));

            Assert.Equal(
                $"{Path.Combine("second", "garment.json")}: id: \"tee\" is already the id of another garment; give this one its own",
                problem.Message
            );
        }
        finally
        {
            folder.Delete(true);
        }
    }

    private static void Set(JsonNode root, string path, JsonNode value)
    {
        var steps = path.Replace("[", ".", StringComparison.Ordinal)
            .Replace("]", "", StringComparison.Ordinal)
            .Split('.');
        var node = root;
        foreach (var step in steps[..^1])
            node = int.TryParse(step, out var at) ? node[at]! : node[step]!;
        if (int.TryParse(steps[^1], out var last))
            node[last] = value;
        else
            node[steps[^1]] = value;
    }

    internal static string RepositoryRoot()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ProofDesk.sln")))
            folder =
                Path.GetDirectoryName(folder)
                ?? throw new DirectoryNotFoundException("ProofDesk.sln not found above the tests");
        return folder;
    }
}
