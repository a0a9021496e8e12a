using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Tests.Separations;

/// <summary>A small crest: red disc, white star, black ring.</summary>
internal static class Crest
{
    public const string RedHex = "#c8102e";

    public static TestArt Draw() =>
        new TestArt(600, 600)
            .Disc("#000000", 300, 300, 290)
            .Disc(RedHex, 300, 300, 260)
            .Star("#ffffff", 300, 310, 200, 80);

    public static SizedArt Sized() => Draw().Sized(50);
}
