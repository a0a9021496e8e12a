using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Comparisons;
using ProofDesk.Web.Compare;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Tests;

/// <summary>Sheets as the desk makes them, without a render behind them.</summary>
public static class CompareSheets
{
    /// <summary>One finished cell whose pictures are stored already, and one that its method cannot make.</summary>
    public static CompareSheet Of(Guid? order, string pictureSha256) =>
        new()
        {
            Title = "Regatta, methods",
            OrderId = order,
            ArtSha256 = pictureSha256,
            ArtFileName = "crest.png",
            ArtMediaType = "image/png",
            RequestJson = new SheetRequest(
                "Lindhag Screen Works",
                new ProofOrderPrint(
                    "front",
                    "front",
                    pictureSha256,
                    "crest.png",
                    "image/png",
                    Place.Front,
                    40,
                    75,
                    0,
                    "",
                    "",
                    "auto",
                    "auto",
                    "adult",
                    []
                ),
                ["L"],
                48,
                300,
                0.5,
                1,
                "EUR"
            ).ToJson(),
            Cells =
            [
                new SheetCell
                {
                    Position = 0,
                    Method = "plastisol",
                    GarmentId = "tee",
                    ColourId = "white",
                    State = CellState.Done,
                    PrintSha256 = pictureSha256,
                    GarmentSha256 = pictureSha256,
                    FactsJson = new CellCard(
                        new CellFacts(
                            ["Red", "Blue"],
                            2,
                            2,
                            10,
                            22,
                            "a light film one can feel",
                            61,
                            0.25,
                            "what a stencil holds",
                            ["the art is 90 dpi at this width"],
                            [],
                            40,
                            30,
                            300,
                            new string('0', 64)
                        ),
                        new CellCost(6.5, 48, "common practice", "EUR")
                    ).ToJson(),
                },
                new SheetCell
                {
                    Position = 1,
                    Method = "sublimation",
                    GarmentId = "tee",
                    ColourId = "white",
                    State = CellState.Cannot,
                    Error = "the cloth holds no polyester; take another method",
                },
            ],
        };
}
