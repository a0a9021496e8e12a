using System.Collections.Immutable;
using System.Text.Json;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Renders;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Proofs;
using ProofDesk.Web.Rates;

namespace ProofDesk.Web.Renders;

/// <summary>The render as the work queue calls it: decode, make the proof of every print, hand over what is bound.</summary>
public sealed class ProofRendering(ProofRequests requests, StoredRepeat repeat, ShopRates rates, IFileStore store)
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    public async Task<RenderOutcome> RenderAsync(
        RenderJob job,
        IProgress<RenderProgress> progress,
        CancellationToken cancel
    )
    {
        var order = ProofOrder.FromJson(job.RequestJson);
        if (await repeat.OfAsync(job, order, cancel) is { } stored)
            return stored;
        var card = await rates.CurrentAsync(cancel);
        var files = new BoundFiles();
        var prints = ImmutableArray.CreateBuilder<PrintSummary>();
        var plates = ImmutableArray.CreateBuilder<ManifestPlate>();
        var proofs = ImmutableArray.CreateBuilder<ManifestedProof>();
        for (var i = 0; i < order.Prints.Length; i++)
        {
            var print = order.Prints[i];
            progress.Report(new("reading the art", Percent(i, 0, order)));
            Proof proof;
            try
            {
                var request = await requests.OfAsync(order, print, cancel);
                var at = i;
                proof = await Task.Run(
                    () => ProofMaker.Make(request, new Steps(progress, done => Percent(at, done * 0.8, order)), cancel),
                    cancel
                );
            }
            catch (UnreadableArt unreadable)
            {
                return new RenderOutcome.Refused($"{unreadable.What}; {unreadable.NextStep}", "[]");
            }
            catch (ProofRefused refused)
            {
                return new RenderOutcome.Refused(Reason(refused), FindingsJson.Write(refused.Findings));
            }
            progress.Report(new("writing films and pictures", Percent(i, 0.8, order)));
            var name = new FilmSetName($"{order.Number}", print.Name, $"{job.VersionNumber}", Released: true);
            files.Add(print.Key, proof, name, cancel);
            files.AddInputs(
                print.Key,
                proof,
                name,
                print.ArtMediaType,
                () => store.Open(print.ArtSha256),
                print.Options?.Roster
            );
            prints.Add(Summaries.Of(print, proof, card));
            proofs.Add(new(print, proof));
        }

        var summary = new ProofSummary("D65, daylight", prints.ToImmutable());
        files.Add(ProofSummary.Path, FileRole.Findings, "application/json", summary.ToJson());
        var screens = prints.Sum(p => p.Plates.Length);
        var handOver = Manifests.HandOverOf(proofs);
        var texts = Sentences.Of(job, order, screens, handOver);
        return new RenderOutcome.Done(
            files.All,
            kept => ManifestJson.Write(Manifests.Of(job, order, summary, [.. proofs], texts, kept)),
            texts,
            JsonSerializer.Serialize(prints.SelectMany(p => p.Findings), Json)
        );
    }

    private static string Reason(ProofRefused refused) =>
        string.Join(
            "; ",
            refused.Findings.Where(f => f.Weight == FindingWeight.Refusal).Select(f => $"{f.Message}; {f.NextStep}")
        );

    private static int Percent(int print, double done, ProofOrder order) =>
        (int)(98 * (print + done) / order.Prints.Length);

    private sealed class Steps(IProgress<RenderProgress> to, Func<double, int> percent) : IProgress<ProofProgress>
    {
        public void Report(ProofProgress value) => to.Report(new(value.Step, percent(value.Done)));
    }
}

/// <summary>A print of the order and the proof that was made of it.</summary>
public sealed record ManifestedProof(ProofOrderPrint Print, Proof Proof);
