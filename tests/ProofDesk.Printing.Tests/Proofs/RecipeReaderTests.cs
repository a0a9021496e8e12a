using System.Text.Json;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Metals;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Rosters;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Proofs;

public sealed class RecipeReaderTests
{
    private static ProofRequest Request()
    {
        var source = new ArtSource("png", 2, 1, 8, "rgb", null, true, false);
        var art = new Artwork(new RgbaRaster(2, 1), source, new string('0', 64), []);
        return new(art, Placement.Usual(Place.Front, 280), PrintMethods.Find("plastisol")!, [Cloths.White])
        {
            GarmentPixelsPerMm = 0.5,
        };
    }

    private static Ink Own(string id) =>
        Cloths.Ink("red") with
        {
            Id = id,
            AbsorptionPerUm = Spectrum.From(nm => nm / 3e6),
            Formula = new([new("red paste", 1000.0 / 3), new("clear base", 2000.0 / 3)]),
            Target = new(new(41.2, 55, 1.0 / 3), 2, ViewingLight.D50),
        };

    private static Dictionary<string, string> Digits(Recipe recipe) =>
        JsonSerializer.Deserialize<Dictionary<string, string>>(recipe.Digits)!;

    private static ProofRequest Read(string json, Dictionary<string, string>? digits = null, Artwork? art = null) =>
        RecipeReader.Open(json, digits ?? []).Request(art ?? Request().Art, _ => Cloths.White.Garment);

    public static TheoryData<string, Func<ProofRequest, ProofRequest>> Changes()
    {
        var all = RecipeTests.Changes();
        all.Add(
            "an own ink",
            r => r with { Spot = r.Spot with { Inks = InkChoice.Of(Own("own"), Cloths.Ink("white")) } }
        );
        all.Add(
            "cloth that shows",
            r =>
                r with
                {
                    Spot = r.Spot with { ClothShows = r.Spot.ClothShows.Add("#ff0000", true).Add("#00ff00", false) },
                }
        );
        all.Add(
            "a press",
            r => r with { Spot = r.Spot with { Press = r.Press with { GrowthUm = 100.0 / 3, Name = "shed \"2\"" } } }
        );
        all.Add(
            "a roster",
            r =>
                r with
                {
                    Roster = new("team.csv", [new(2, "Ödön", "7", "M", "white")])
                    {
                        Style = new() { Ink = Cloths.Ink("red") },
                        Notes = [new("note", FindingWeight.Note, "a", "b", 1.5, null, "mm")],
                    },
                }
        );
        all.Add(
            "a metal",
            r =>
                r with
                {
                    Spot = r.Spot with { Inks = InkChoice.Of(InkLibrary.Default.First(i => i.Finish is not null)) },
                }
        );
        return all;
    }

    [Theory]
    [MemberData(nameof(Changes))]
    public void A_recipe_is_read_back_into_a_request_that_writes_it_to_the_last_place(
        string what,
        Func<ProofRequest, ProofRequest> change
    )
    {
        var asked = change(Request());
        var written = RecipeWriter.Of(asked);

        var read = RecipeReader
            .Open(written.Json, Digits(written))
            .Request(asked.Art, sha => asked.Grounds.First(g => g.Garment.Sha256 == sha).Garment);

        Assert.True(RecipeWriter.Of(read) == written, what);
    }

    [Fact]
    public void Inks_of_the_library_are_its_own_and_the_same_own_ink_is_one()
    {
        var asked = Request() with
        {
            Spot = new() { Inks = InkChoice.Of(Cloths.Ink("white"), Own("own"), Own("own")) },
        };
        var written = RecipeWriter.Of(asked);

        var inks = Read(written.Json, Digits(written)).Spot.Inks.Inks;

        Assert.Same(Cloths.Ink("white"), inks[0]);
        Assert.Same(inks[1], inks[2]);
        Assert.Equal(Own("own").AbsorptionPerUm.Values.ToArray(), inks[1].AbsorptionPerUm.Values.ToArray());
    }

    [Fact]
    public void Digits_that_change_one_of_the_nine_places_are_left_aside()
    {
        var written = RecipeWriter.Of(Request() with { Spot = new() { AngleDegrees = 22.5 } });
        var reader = RecipeReader.Open(written.Json, new Dictionary<string, string> { ["Spot.AngleDegrees"] = "22.6" });

        var read = reader.Request(Request().Art, _ => Cloths.White.Garment);

        Assert.Equal(22.5, read.Spot.AngleDegrees);
        Assert.Equal(1, reader.DigitsLeftAside);
    }

    [Theory]
    [InlineData("\"Seed\":\"1\"", "\"Seed\":\"1\",\"Sheen\":3", "Sheen is a setting this program does not know")]
    [InlineData("\"Seed\":\"1\",", "", "Seed is missing")]
    [InlineData("\"Seed\":\"1\"", "\"Seed\":1", "Seed must be a text")]
    [InlineData(
        "\"AngleDegrees\":22500000000",
        "\"AngleDegrees\":22.5",
        "Spot.AngleDegrees must be a whole number of billionths"
    )]
    [InlineData(
        "\"Light\":\"D65\"",
        "\"Light\":\"candle\"",
        "Light is 'candle', must be one of D50, D65, A, F11, D65TenDegrees, ATenDegrees, F11TenDegrees"
    )]
    [InlineData(
        "\"Method\":\"plastisol\"",
        "\"Method\":\"marbling\"",
        "Method is 'marbling', which this program does not know"
    )]
    [InlineData(
        "\"WidthPixels\":2",
        "\"WidthPixels\":3",
        "the art is 2 x 1 px as it is read here, 3 x 1 px in the recipe"
    )]
    [InlineData(
        "\"Under\":null",
        "\"Under\":\"ab\"",
        "the recipe names the print below by its digest only; a print on another one cannot be made again from it"
    )]
    [InlineData("\"Press\":{", "\"Press\":null,\"x\":{", "Spot.Press is null")]
    [InlineData("\"Seed\":\"1\",", "\"Seed\":\"1\", ", "the recipe is not as this program writes it, from character")]
    [InlineData("\"Engine\":\"", "\"engine\":\"", "the recipe names no engine version")]
    public void What_this_version_would_not_write_is_refused_by_name(string from, string to, string what)
    {
        var json = RecipeWriter.Of(Request()).Json;

        var refused = Assert.Throws<RecipeProblem>(() => Read(json.Replace(from, to, StringComparison.Ordinal)));

        Assert.StartsWith(what, refused.Message);
    }

    [Fact]
    public void A_setting_of_another_engine_is_refused_with_both_versions()
    {
        var json = RecipeWriter
            .Of(Request(), "9.0.0")
            .Json.Replace("\"Seed\"", "\"Salt\":1,\"Seed\"", StringComparison.Ordinal);

        var refused = Assert.Throws<RecipeProblem>(() => Read(json));

        Assert.Equal(
            $"Salt is a setting this program does not know; the recipe is of engine 9.0.0, this program is {ProofMaker.EngineVersion}: use a program of that version",
            refused.Message
        );
    }

    [Fact]
    public void A_recipe_of_another_engine_with_the_same_settings_can_be_read()
    {
        var reader = RecipeReader.Open(RecipeWriter.Of(Request(), "9.0.0").Json, new Dictionary<string, string>());

        reader.Request(Request().Art, _ => Cloths.White.Garment);

        Assert.Equal("9.0.0", reader.Engine);
    }

    [Fact]
    public void A_garment_that_is_not_there_is_named()
    {
        var garment = Cloths.White.Garment with { Sha256 = new string('c', 64) };
        var written = RecipeWriter.Of(Request() with { Grounds = [Cloths.White with { Garment = garment }] });
        var reader = RecipeReader.Open(written.Json, Digits(written));

        var refused = Assert.Throws<RecipeProblem>(() => reader.Request(Request().Art, _ => null));

        Assert.Equal((garment.Id, garment.Sha256), Assert.Single(reader.Garments));
        Assert.Equal("the garment 'tee' of digest cccccccc is not there", refused.Message);
    }
}
