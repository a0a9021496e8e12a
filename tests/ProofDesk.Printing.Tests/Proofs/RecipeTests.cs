using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Layers;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Proofs;

public sealed class RecipeTests
{
    private static ProofRequest Request()
    {
        var source = new ArtSource("png", 2, 1, 8, "rgb", null, true, false);
        var art = new Artwork(new RgbaRaster(2, 1), source, new string('0', 64), []);
        return new(art, Placement.Usual(Place.Front, 280), PrintMethods.Find("plastisol")!, [Cloths.White]);
    }

    public static TheoryData<string, Func<ProofRequest, ProofRequest>> Changes() =>
        new()
        {
            { "art", r => r with { Art = r.Art with { Sha256 = new string('1', 64) } } },
            { "width", r => r with { Placement = r.Placement with { WidthMm = 280.001 } } },
            { "method", r => r with { Method = PrintMethods.Find("water-based")! } },
            { "ground", r => r with { Grounds = [Cloths.Black] } },
            { "grounds", r => r with { Grounds = [Cloths.White, Cloths.Black] } },
            { "background", r => r with { Background = BackgroundChoice.Drop } },
            { "seed", r => r with { Seed = 2 } },
            { "quantity", r => r with { Quantity = 101 } },
            { "size", r => r with { GarmentSize = "XL" } },
            { "device", r => r with { Device = r.Device with { Mirror = true } } },
            { "stretch", r => r with { Device = r.Device with { XStretchPercent = 0.1 } } },
            {
                "tones",
                r => r with { Device = r.Device with { Tones = new([0, 12, 23, 34, 45, 55, 65, 74, 83, 92, 100]) } }
            },
            { "width of the device", r => r with { Device = r.Device with { LargestWidthMm = 400 } } },
            { "frame", r => r with { Device = r.Device with { Frame = r.Device.Frame with { InnerWidthMm = 400 } } } },
            { "images", r => r with { Layout = new(2, 2, 20) } },
            { "ruling", r => r with { Spot = r.Spot with { LinesPerInch = 45 } } },
            { "dots", r => r with { Spot = r.Spot with { Dots = DotPlacement.Stochastic } } },
            { "size of dots", r => r with { Spot = r.Spot with { StochasticDotUm = 90 } } },
            { "highlight", r => r with { Spot = r.Spot with { HighlightWhite = true } } },
            { "flat areas", r => r with { Spot = r.Spot with { FlatAreas = FlatAreas.Toned } } },
            { "layers", r => r with { Spot = r.Spot with { Layers = LayerChoice.Flatten } } },
            { "press", r => r with { Spot = r.Spot with { Press = r.Press with { GrowthUm = 25.000_001 } } } },
            { "hand work", r => r with { HandWork = new([new("Red") { SpreadUm = 50 }]) } },
            { "inks", r => r with { Spot = r.Spot with { Inks = new(null, [Cloths.Ink("red")], []) } } },
        };

    [Theory]
    [MemberData(nameof(Changes))]
    public void Whatever_changes_the_proof_changes_the_recipe(string what, Func<ProofRequest, ProofRequest> change)
    {
        var before = RecipeWriter.Of(Request());

        var after = RecipeWriter.Of(change(Request()));

        Assert.True(before.Sha256 != after.Sha256, $"{what} is not in the recipe");
    }

    // A proof that was made before the setting existed keeps its digest.
    [Fact]
    public void A_setting_that_came_later_is_named_only_when_it_is_chosen()
    {
        Assert.DoesNotContain("FlatAreas", RecipeWriter.Of(Request()).Json, StringComparison.Ordinal);
    }

    // A proof signed before there was a choice has the recipe it had.
    [Fact]
    public void Settings_that_came_later_are_named_only_when_used()
    {
        var usual = RecipeWriter.Of(Request()).Json;

        Assert.DoesNotContain("\"Dots\":", usual, StringComparison.Ordinal);
        Assert.DoesNotContain("StochasticDotUm", usual, StringComparison.Ordinal);
        var chosen = RecipeWriter.Of(Request() with { Spot = new() { Dots = DotPlacement.Stochastic } }).Json;
        Assert.Contains("\"Dots\":\"Stochastic\"", chosen, StringComparison.Ordinal);
    }

    [Fact]
    public void Recipes_from_before_there_were_layers_stay_what_they_are() =>
        Assert.DoesNotContain("\"Layers\"", RecipeWriter.Of(Request()).Json, StringComparison.Ordinal);

    [Fact]
    public void The_same_request_is_the_same_recipe_and_its_digest_is_of_its_text()
    {
        var one = RecipeWriter.Of(Request());
        var two = RecipeWriter.Of(Request());

        Assert.Equal(one, two);
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(one.Json))), one.Sha256);
    }

    [Fact]
    public void Films_as_they_were_made_leave_no_word_about_hands_in_the_recipe()
    {
        var recipe = RecipeWriter.Of(Request() with { HandWork = new([new("Red") { SpreadUm = 0 }]) });

        Assert.Equal(RecipeWriter.Of(Request()), recipe);
        Assert.DoesNotContain("HandWork", recipe.Json, StringComparison.Ordinal);
    }

    [Fact]
    public void Settings_that_came_later_stand_in_a_recipe_only_where_they_are_used()
    {
        var json = RecipeWriter.Of(Request()).Json;

        Assert.Contains(
            "\"Device\":{\"HandOver\":\"DotsOurs\",\"ImageFromPalletEdgeMm\":100000000000,\"Mirror\":false,\"Name\":\"fallback film recorder\",\"XDpi\":1440000000000,\"YDpi\":1440000000000}",
            json,
            StringComparison.Ordinal
        );
        Assert.DoesNotContain("\"Layout\"", json, StringComparison.Ordinal);
    }

    [Fact]
    public void Recipes_hold_sorted_keys_and_no_fraction()
    {
        using var json = JsonDocument.Parse(RecipeWriter.Of(Request()).Json);

        Check(json.RootElement);

        static void Check(JsonElement element)
        {
            if (element.ValueKind == JsonValueKind.Number)
                Assert.True(element.TryGetInt64(out _), element.GetRawText());
            if (element.ValueKind == JsonValueKind.Array)
                foreach (var item in element.EnumerateArray())
                    Check(item);
            if (element.ValueKind != JsonValueKind.Object)
                return;
            var names = element.EnumerateObject().Select(p => p.Name).ToArray();
            Assert.Equal(names.Order(StringComparer.Ordinal), names);
            foreach (var member in element.EnumerateObject())
                Check(member.Value);
        }
    }

    [Fact]
    public void The_press_that_prints_is_the_press_the_plates_were_made_for()
    {
        var press = PressSettings.Automatic with { GrowthUm = 40 };

        var request = Request() with { Spot = new() { Press = press } };

        Assert.Equal(press, request.Press);
    }
}
