using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Work;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Renders;

/// <summary>Asks for a render, follows it, stops it.</summary>
public sealed class RendersController(RenderRequests requests, RenderQueue queue) : Controller
{
    [HttpPost("/orders/{orderId:guid}/renders")]
    [Needs(Right.WorkOnArt)]
    public async Task<IActionResult> Create(Guid orderId, CancellationToken cancel)
    {
        if (!await requests.OrderExistsAsync(orderId, cancel))
            return NotFound();
        await requests.AskAsync(orderId, User.Identity!.Name!, cancel);
        return Redirect($"/orders/{orderId}");
    }

    [HttpPost("/renders/{versionId:guid}/cancellation")]
    [Needs(Right.WorkOnArt)]
    public async Task<IActionResult> Cancel(Guid versionId, CancellationToken cancel)
    {
        if (await requests.OrderOfAsync(versionId, cancel) is not { } orderId)
            return NotFound();
        await queue.CancelAsync(versionId, User.Identity!.Name!, cancel);
        return Redirect($"/orders/{orderId}");
    }

    /// <summary>A stream of progress rows; the event's id is the row's number, so a lost connection goes on where it was.</summary>
    [HttpGet("/renders/{versionId:guid}/events")]
    [Needs(Right.ReadOrders)]
    public async Task<IResult> Events(Guid versionId, CancellationToken cancel)
    {
        if (await queue.ViewAsync(versionId, cancel) is null)
            return Results.NotFound();
        Response.Headers["X-Accel-Buffering"] = "no";
        _ = long.TryParse(Request.Headers["Last-Event-ID"], out var seen);
        return TypedResults.ServerSentEvents(Follow(versionId, seen, cancel));
    }

    private async IAsyncEnumerable<SseItem<RenderStep>> Follow(
        Guid versionId,
        long seen,
        [EnumeratorCancellation] CancellationToken cancel
    )
    {
        while (!cancel.IsCancellationRequested && await queue.ViewAsync(versionId, cancel) is { } view)
        {
            if (view.State is not (RenderState.Ready or RenderState.Running))
            {
                yield return Item("ended", view);
                yield break;
            }
            if (view.ProgressNumber > seen)
            {
                seen = view.ProgressNumber;
                yield return Item("progress", view);
            }
            await Task.Delay(400, cancel);
        }
    }

    private static SseItem<RenderStep> Item(string kind, RenderView view) =>
        new(new RenderStep(view.Stage, view.PercentDone), kind)
        {
            EventId = view.ProgressNumber.ToString(),
            ReconnectionInterval = TimeSpan.FromSeconds(2),
        };
}

public sealed record RenderStep(string Stage, int Percent);
