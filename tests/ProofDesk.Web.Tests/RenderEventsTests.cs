using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Tests;

/// <summary>The stream a page follows a render by, broken off and taken up again.</summary>
[Collection(OneServer.Name)]
public sealed class RenderEventsTests(RunningServer server)
{
    [Fact]
    public async Task A_stream_goes_on_after_the_last_event_seen_and_always_says_the_end()
    {
        var (_, version, work) = await RunningAsync("followed");

        var first = await FollowAsync(version, lastSeen: null, until: "id: 7");
        var more = FollowAsync(version, lastSeen: "7", until: "event: ended");
        await Task.Delay(600);
        await ChangeAsync(work, w => (w.Stage, w.PercentDone, w.ProgressNumber) = ("composing", 80, 8));
        await Task.Delay(900);
        await ChangeAsync(work, w => w.State = RenderState.Done);
        var after = await more;
        var late = await FollowAsync(version, lastSeen: "8", until: "event: ended");

        Assert.Contains("event: progress\ndata: {\"stage\":\"printing\",\"percent\":40}\nid: 7\nretry: 2000\n", first);
        Assert.DoesNotContain("id: 7", after);
        Assert.Contains("event: progress\ndata: {\"stage\":\"composing\",\"percent\":80}\nid: 8\n", after);
        Assert.Contains("event: ended\n", after);
        Assert.DoesNotContain("event: progress", late);
    }

    [Fact]
    public async Task Without_script_the_page_of_a_running_render_loads_itself_again()
    {
        var (order, _, _) = await RunningAsync("followed without script");

        var page = await server.Staff.GetAsync($"/orders/{order}");

        Assert.Contains("<noscript><meta http-equiv=\"refresh\" content=\"3\"></noscript>", page.Text);
        Assert.Contains("<progress max=\"100\" value=\"40\"", page.Text);
    }

    /// <summary>A render held by somebody who never reports, so that nothing but the test moves it.</summary>
    private Task<(Guid Order, Guid Version, Guid Work)> RunningAsync(string title) =>
        server.ReadAsync(async db =>
        {
            var order = new Order
            {
                Number = 1 + (await db.Orders.MaxAsync(o => (int?)o.Number) ?? 1000),
                Title = title,
                Client = new Client { Name = "Harbour Rowing Club", Email = "kim@harbour-rowing.example" },
                CreatedAt = DateTimeOffset.UtcNow,
            };
            var version = new ProofVersion
            {
                OrderId = order.Id,
                Number = 1,
                State = VersionState.Rendering,
                RequestJson = "{}",
                CreatedAt = order.CreatedAt,
            };
            var work = new RenderWork
            {
                VersionId = version.Id,
                State = RenderState.Running,
                LeaseOwner = "a test",
                LeaseUntil = DateTimeOffset.UtcNow.AddHours(1),
                Stage = "printing",
                PercentDone = 40,
                ProgressNumber = 7,
                CreatedAt = order.CreatedAt,
            };
            db.AddRange(order, version, work);
            await db.SaveChangesAsync();
            return (order.Id, version.Id, work.Id);
        });

    private Task<int> ChangeAsync(Guid work, Action<RenderWork> change) =>
        server.ReadAsync(async db =>
        {
            change(await db.RenderWork.SingleAsync(w => w.Id == work));
            return await db.SaveChangesAsync();
        });

    private async Task<string> FollowAsync(Guid version, string? lastSeen, string until)
    {
        using var http = new HttpClient(new HttpClientHandler { CookieContainer = server.Staff.Cookies });
        using var request = new HttpRequestMessage(
            HttpMethod.Get,
            new Uri(server.Address, $"/renders/{version}/events")
        );
        if (lastSeen is not null)
            request.Headers.Add("Last-Event-ID", lastSeen);
        using var response = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead);
        using var reader = new StreamReader(await response.Content.ReadAsStreamAsync());
        var text = "";
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(20));
        while (await reader.ReadLineAsync(patience.Token) is { } line)
        {
            text += line + "\n";
            if (text.Contains(until, StringComparison.Ordinal) && line.Length == 0)
                break;
        }
        return text;
    }
}
