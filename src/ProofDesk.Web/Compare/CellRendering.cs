using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Work;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Comparisons;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Proofs;
using ProofDesk.Web.Rates;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Compare;

/// <summary>
/// One cell as the work queue calls it: the whole way from art to picture that every proof takes, for one ground, without the ends
/// of the range and the heads. Only the films are coarser and the pictures are averaged down.
/// </summary>
public sealed class CellRendering(ProofRequests requests, ShopRates rates)
{
    private const int MostSide = 900;

    public async Task<CellOutcome> MakeAsync(CellJob job, IProgress<RenderProgress> progress, CancellationToken cancel)
    {
        var sheet = SheetRequest.FromJson(job.RequestJson);
        progress.Report(new("reading the art", 1));
        try
        {
            var (order, print) = sheet.Of(job);
            var request = (await requests.OfAsync(order, print, cancel)) with { WithRange = false, HeadByHead = false };
            var proof = await Task.Run(() => ProofMaker.Make(request, new Steps(progress), cancel), cancel);
            var ground = proof.Grounds[0];
            var card = new CellCard(CellFacts.Of(proof, ground), await CostAsync(proof, sheet, cancel));
            return new CellOutcome.Done(
                PictureWriter.Png(ground.Expected.Print, MostSide),
                PictureWriter.Png(ground.Garment, MostSide),
                card.ToJson()
            );
        }
        catch (UnreadableArt unreadable)
        {
            return new CellOutcome.Cannot($"{unreadable.What}; {unreadable.NextStep}");
        }
        catch (ProofRefused refused)
        {
            return new CellOutcome.Cannot(
                string.Join(
                    "\n",
                    refused
                        .Findings.Where(f => f.Weight == FindingWeight.Refusal)
                        .Select(f => $"{f.Message}; {f.NextStep}")
                        .Distinct()
                )
            );
        }
    }

    private async Task<CellCost> CostAsync(Proof proof, SheetRequest sheet, CancellationToken cancel)
    {
        var (card, name) = await rates.HistoryAsync(cancel) is [var newest, ..]
            ? (newest.Card, $"{newest.Card.Name}, version {newest.Row.Version}")
            : (RateCard.CommonPractice, RateCard.CommonPractice.Name);
        var cost = RunCost.Of(CostedPrint.Of(proof), card, sheet.Quantity);
        return new(cost.PerPiece, sheet.Quantity, name, sheet.Currency);
    }

    private sealed class Steps(IProgress<RenderProgress> to) : IProgress<ProofProgress>
    {
        public void Report(ProofProgress value) => to.Report(new(value.Step, (int)(99 * value.Done)));
    }
}
