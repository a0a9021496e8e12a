using System.Text.Json;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations.ByHand;
using ProofDesk.Printing.Tests.Methods;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Separations.ByHand;

/// <summary>What is changed on a film shows in the picture, the ink list and the recipe of its proof.</summary>
public class HandWorkProofTests
{
    private static readonly Ground Black = PlainTee.Of("Black", ClothSpectra.FromLab(new(16.5, 0.3, -1.2)), 0);

    private static ProofRequest Request() =>
        new(Crest.Draw().Artwork(), Placement.Usual(Place.Front, 50), PrintMethods.Find("plastisol")!, [Black])
        {
            Background = BackgroundChoice.Print,
            Device = OutputDevice.Fallback with { XDpi = 720, YDpi = 720 },
        };

    private static Proof Make(ProofRequest request) => ProofMaker.Make(request, null, CancellationToken.None);

    [Fact]
    public void A_thinner_base_prints_a_darker_red_and_a_smaller_area()
    {
        var made = Make(Request());

        var changed = Make(
            Request() with
            {
                HandWork = new([
                    new("White base") { Wedge = [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5] },
                ]),
            }
        );

        // Red lies from 20 to 30 % of the height left of the star.
        var (before, after) = (
            made.Grounds[0].Expected.MeanLab(6, 22, 10, 28),
            changed.Grounds[0].Expected.MeanLab(6, 22, 10, 28)
        );
        Assert.True(after.L < before.L - 2, $"L* {before.L:0.0} became {after.L:0.0}");
        Assert.Equal(made.Measures[0].CoveragePercent / 2, changed.Measures[0].CoveragePercent, 0.5);
        Assert.Equal(made.Measures[1].Sha256, changed.Measures[1].Sha256);
        var rows = changed.Grounds[0].InkList.Rows;
        Assert.Equal("wedge 0 5 10 15 20 25 30 35 40 45 50 %", rows[0].ByHand);
        Assert.Null(rows[1].ByHand);
        Assert.Contains(changed.Findings, f => f.Code == "by-hand");
        Assert.NotEqual(made.Recipe.Sha256, changed.Recipe.Sha256);
        using var list = JsonDocument.Parse(InkListJson.Write(changed));
        var json = list.RootElement.GetProperty("grounds")[0].GetProperty("rows");
        Assert.Equal("wedge 0 5 10 15 20 25 30 35 40 45 50 %", json[0].GetProperty("byHand").GetString());
        Assert.False(json[1].TryGetProperty("byHand", out _));
    }

    [Fact]
    public void Films_looked_at_again_are_the_changed_ones()
    {
        var request = Request() with { HandWork = new([new("Red") { SpreadUm = 120 }]) };

        var films = ProofMaker.MakeFilms(request);

        Assert.Equal("spread 120 um", films.Plates[1].Plate.ByHand);
        Assert.NotNull(films.Plates[1].Plate.Made);
    }

    [Fact]
    public void Hand_work_that_cannot_be_done_stops_the_proof()
    {
        var request = Request() with { HandWork = new([new("Red") { KeepOut = [new(1, 1, 5, 5)] }]) };

        var refused = Assert.Throws<ProofRefused>(() => Make(request));

        Assert.Contains(refused.Findings, f => f.Code == "by-hand-keep-out-colour");
    }
}
