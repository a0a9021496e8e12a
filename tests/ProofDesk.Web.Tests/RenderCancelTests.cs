using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Tests;

/// <summary>A render that is called off.</summary>
[Collection(OneServer.Name)]
public sealed class RenderCancelTests(RunningServer server)
{
    [Fact]
    public async Task A_render_that_is_stopped_makes_no_version_and_can_be_asked_for_again()
    {
        var version = await server.RenderedVersionAsync("called off");
        var order = await OrderOfAsync(version);
        var table = await server.Staff.GetAsync($"/versions/{version}/light-table");
        // The queue does one after the other, so what is asked for behind two others has not begun.
        var busy = await server.RenderedVersionAsync("keeps the queue busy");
        for (var i = 0; i < 2; i++)
            await PostAsync($"/orders/{await OrderOfAsync(busy)}/renders");
        var first = await server.Staff.PostAsync(table, new() { ["Films[0].Spread"] = "-60" }, form: 1);
        var running = await server.Staff.GetAsync($"/orders/{order}");
        var stop = running.Forms.FindIndex(f => f.Action.EndsWith("/cancellation", StringComparison.Ordinal));
        var stopped = await server.Staff.PostAsync(running, form: stop);
        var state = await EndOfAsync(Guid.Parse(first.Location!.Split('/')[2]));
        var page = await server.Staff.GetAsync($"/orders/{order}");
        var waiting = await server.Staff.GetAsync(first.Location);
        var again = await server.Staff.PostAsync(
            page,
            form: page.Forms.FindIndex(f => f.Action.EndsWith("/renders", StringComparison.Ordinal))
        );
        var made = await server.FinishedAsync(order);

        Assert.Equal((HttpStatusCode.Redirect, $"/orders/{order}"), (stopped.Status, stopped.Location));
        Assert.Equal(VersionState.Failed, state);
        Assert.Matches("<h2>Version 2 was not made</h2>\\s*<p>cancelled before it began</p>", page.Text);
        Assert.Matches("<h2>Version 2 was not made</h2>\\s*<p>cancelled before it began</p>", waiting.Text);
        Assert.Contains("Back to the films of version 1: what was asked for stands in their fields", waiting.Text);
        Assert.Equal(HttpStatusCode.Redirect, again.Status);
        Assert.Contains("Version 3", (await server.Staff.GetAsync($"/versions/{made}")).Title);
    }

    [Fact]
    public async Task A_version_that_does_not_exist_cannot_be_stopped()
    {
        var answer = await PostAsync($"/renders/{Guid.NewGuid()}/cancellation");

        Assert.Equal(HttpStatusCode.NotFound, answer.Status);
    }

    private Task<Guid> OrderOfAsync(Guid version) =>
        server.ReadAsync(db => db.ProofVersions.Where(v => v.Id == version).Select(v => v.OrderId).SingleAsync());

    /// <summary>A form of nothing but its token.</summary>
    private async Task<Page> PostAsync(string path)
    {
        var desk = await server.Staff.GetAsync("/desk");
        return await server.Staff.SendAsync(
            new HttpRequestMessage(HttpMethod.Post, path) { Content = new FormUrlEncodedContent(desk.Forms[0].Hidden) }
        );
    }

    private async Task<VersionState> EndOfAsync(Guid version)
    {
        for (var tries = 0; tries < 300; tries++)
        {
            var state = await server.ReadAsync(db =>
                db.ProofVersions.Where(v => v.Id == version).Select(v => v.State).SingleAsync()
            );
            if (state != VersionState.Rendering)
                return state;
            await Task.Delay(200);
        }
        throw new TimeoutException("the render did not stop within a minute");
    }
}
