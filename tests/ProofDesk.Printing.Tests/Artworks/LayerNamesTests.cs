using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Tests.Artworks;

public class LayerNamesTests
{
    [Theory]
    [InlineData("01_Red", "Red")]
    [InlineData("2. navy blue", "Navy blue")]
    [InlineData("Red 2", "Red 2")]
    [InlineData("2", "2")]
    [InlineData("1 2", "1 2")]
    [InlineData("#c8102e", "#c8102e")]
    public void A_plate_bears_the_name_without_the_number_that_orders_it(string name, string plate) =>
        Assert.Equal(plate, LayerNames.Clean(name));

    [Theory]
    [InlineData("Royal-Blues 2", "royal blue")]
    [InlineData("darkGrey", "dark grey")]
    [InlineData("gray_copy", "grey")]
    [InlineData("Burgundy ink", "maroon")]
    [InlineData("03 YEL", "yellow")]
    public void Words_have_one_spelling_and_no_numbers(string name, string words) =>
        Assert.Equal(words.Split(' '), LayerNames.Words(name));

    [Theory]
    [InlineData("Base", LayerRole.Base)]
    [InlineData("base white", LayerRole.Base)]
    [InlineData("00_UB", LayerRole.Base)]
    [InlineData("White Underbase 1", LayerRole.Base)]
    [InlineData("underlay", LayerRole.Base)]
    [InlineData("White", LayerRole.White)]
    [InlineData("wht", LayerRole.White)]
    [InlineData("Highlight", LayerRole.HighlightWhite)]
    [InlineData("highlights white", LayerRole.HighlightWhite)]
    [InlineData("Discharge", LayerRole.DischargeBase)]
    [InlineData("discharge base", LayerRole.DischargeBase)]
    [InlineData("Blocker", LayerRole.BlockingBase)]
    [InlineData("Baseball", LayerRole.Colour)]
    [InlineData("highlight yellow", LayerRole.Colour)]
    [InlineData("off white", LayerRole.Colour)]
    public void A_name_may_say_what_a_layer_is_for(string name, LayerRole role) =>
        Assert.Equal(role, LayerNames.Role(name));

    [Theory]
    [InlineData("Red", true)]
    [InlineData("02 club navy", true)]
    [InlineData("UB", true)]
    [InlineData("#c8102e", true)]
    [InlineData("ink Harbour", true)]
    [InlineData("Texture", false)]
    [InlineData("background", false)]
    [InlineData("Incredible", false)]
    [InlineData("Rot", false)]
    public void Some_names_say_an_ink(string name, bool says) => Assert.Equal(says, LayerNames.SaysInk(name));

    [Theory]
    [InlineData("navy blue", "#1d2a4d")]
    [InlineData("Base", "#ffffff")]
    [InlineData("plate #C8102E", "#c8102e")]
    [InlineData("Texture", "#808080")]
    public void A_layer_without_a_colour_is_drawn_in_what_its_name_says(string name, string hex) =>
        Assert.Equal(hex, LayerNames.DrawnIn(name));
}
