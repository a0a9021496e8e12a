using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>[PHYSICS] 5, P22: a sheet or a transfer of white is itself on any cloth.</summary>
public sealed class OpaqueFilmTests
{
    [Theory]
    [InlineData(70)]
    [InlineData(85)]
    public void A_white_sheet_or_transfer_is_itself_on_any_cloth(double um)
    {
        var sheet = Cloths.Film("white", um);
        var onBlack = Cloths.Printed(Cloths.Black, sheet);
        var onRed = Cloths.Printed(Cloths.Red, sheet);

        Assert.InRange(onBlack.L, 94, 95.6);
        Assert.InRange(onRed.L, 94, 95.6);
        Assert.InRange(Ciede2000.Difference(onBlack, onRed), 0, 1);
    }
}
