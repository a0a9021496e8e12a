using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.Extensions.Caching.Memory;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Advice;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.ByHand;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Advice;

/// <summary>Every method tried on one print of an order.</summary>
/// <param name="Trials">In the order of the list of methods.</param>
/// <param name="Problem">Why nothing could be tried; null when it could.</param>
public sealed record MethodStudy(ImmutableArray<MethodTrial> Trials, string? Problem);

/// <summary>How far a study is.</summary>
public sealed record StudyState(MethodStudy? Study, int Tried)
{
    public static int All => PrintMethods.All.Length;
}

/// <summary>
/// Tries all methods on a print as far as their plates, one study at a time, and keeps what came out: the pages of advice and of
/// cost by quantity ask for the same one.
/// </summary>
public sealed class MethodStudies(ProofRequests requests, IMemoryCache cache) : IDisposable
{
    private const long RoughBytes = 400_000;
    private readonly CountedOnce<MethodStudy> once = new(cache, RoughBytes);

    /// <summary>The study, waited for as long as <paramref name="patience"/>; how far it is when that was not enough.</summary>
    public async Task<StudyState> ReadAsync(
        ProofOrder order,
        ProofOrderPrint print,
        TimeSpan patience,
        CancellationToken cancel
    )
    {
        var (study, tried) = await once.ReadAsync(
            KeyOf(order, print),
            (done, stop) => TryAsync(order, print, done, stop),
            patience,
            cancel
        );
        return new(study, study is null ? tried : StudyState.All);
    }

    public void Dispose() => once.Dispose();

    private async Task<MethodStudy> TryAsync(
        ProofOrder order,
        ProofOrderPrint print,
        IProgress<int> done,
        CancellationToken stop
    )
    {
        try
        {
            var asked = await requests.OfAsync(order, print, stop);
            var trials = ImmutableArray.CreateBuilder<MethodTrial>();
            foreach (var method in PrintMethods.All)
            {
                stop.ThrowIfCancellationRequested();
                trials.Add(await Task.Run(() => MethodTrial.Of(With(asked, method)), stop));
                done.Report(trials.Count);
            }
            return new(trials.ToImmutable(), null);
        }
        catch (UnreadableArt unreadable)
        {
            return new([], $"{unreadable.What}; {unreadable.NextStep}");
        }
        catch (ProofRefused refused)
        {
            return new([], refused.Message);
        }
    }

    /// <summary>The method of the order as the order has it set; any other with its usual settings on the same press.</summary>
    private static ProofRequest With(ProofRequest asked, PrintMethod method) =>
        method.Id == asked.Method.Id
            ? asked
            : asked with
            {
                Method = method,
                HandWork = HandWork.None,
                Spot = asked.Spot with { Inks = InkChoice.Automatic, Base = BaseChoice.Auto, BlockingBase = false },
            };

    private static string KeyOf(ProofOrder order, ProofOrderPrint print) =>
        "study "
        + Convert.ToHexString(
            SHA256.HashData(
                JsonSerializer.SerializeToUtf8Bytes(
                    new { print, grounds = order.Lines.Select(l => $"{l.GarmentId}/{l.ColourId}") }
                )
            )
        );
}
