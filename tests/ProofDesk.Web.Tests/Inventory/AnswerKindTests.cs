using System.Net;
using System.Net.Sockets;
using System.Text;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Tests.Inventory;

/// <summary>Every kind of answer, each with all headers: also those that no page of ours writes.</summary>
[Collection(OneInventory.Name)]
public sealed class AnswerKindTests(InventoryServer server)
{
    [Fact]
    public async Task Whatever_the_status_the_headers_are_there()
    {
        var picture = $"/f/{server.Answered.Picture}/print.png";
        var css = (await server.Staff.GetAsync("/css/base.css")).Headers["ETag"];
        var review = $"/review/{server.Open.Invitation}";
        var form = await server.ClientOfOpen.GetAsync(review + "/approve");
        var answers = new List<Page>
        {
            await server.Staff.GetAsync("/live"),
            await server.Staff.GetAsync("/verify.html"),
            await server.Staff.GetAsync($"/renders/{server.Answered.Version}/events"),
            await server.Staff.GetAsync($"/packets/{server.Answered.Decision}"),
            await server.ClientOfOpen.PostAsync(form, action: review + "/code"),
            await WithAsync("Range", "bytes=0-9", picture),
            await WithAsync("Range", "bytes=99999999-", picture),
            await WithAsync("If-None-Match", css, "/css/base.css"),
            await server.Staff.GetAsync("/"),
            await server.ClientOfOpen.GetAsync($"/r/{server.Open.Token}"),
            await server.Staff.SendAsync(new(HttpMethod.Post, "/orders") { Content = new FormUrlEncodedContent([]) }),
            await server.Staff.GetAsync("/problem/401"),
            await WithAsync("Sec-Fetch-Site", "cross-site", "/orders", HttpMethod.Post),
            await server.Staff.GetAsync("/nowhere"),
            await server.Staff.SendAsync(new(HttpMethod.Delete, "/orders")),
            await server.ClientOfOpen.PostAsync(
                await server.ClientOfOpen.GetAsync(review + "/approve"),
                new(RunningServer.AllTicked) { ["Manifest"] = new string('0', 64) }
            ),
            await TooLargeAsync(),
            await server.Staff.GetAsync("/problem/415"),
            await server.ClientOfOpen.PostAsync(form),
            await TooOftenAsync(),
            await server.NewVisitor().GetAsync("/test-only/broken"),
            await server.NewVisitor().GetAsync("/test-only/busy"),
        };

        int[] expected =
        [
            200,
            200,
            200,
            200,
            202,
            206,
            416,
            304,
            302,
            303,
            400,
            401,
            403,
            404,
            405,
            412,
            413,
            415,
            422,
            429,
            500,
            503,
        ];
        Assert.Equal(expected, answers.Select(a => (int)a.Status));
        Assert.Empty(answers.SelectMany(AnswerRules.FaultsOf));
        Assert.Equal("text/event-stream", answers[2].Headers["Content-Type"]);
        Assert.Equal("60", answers[19].Headers["Retry-After"]);
        Assert.Equal("Something broke on our side", answers[20].Title);
        Assert.Equal("5", answers[21].Headers["Retry-After"]);
        Assert.Empty(server.Rules.Faults.Distinct());
    }

    [Fact]
    public async Task Every_file_the_server_gives_away_carries_them()
    {
        var root = Path.Combine(AppContext.BaseDirectory, "wwwroot");
        var files = Directory.GetFiles(root, "*", SearchOption.AllDirectories);
        using var stranger = server.NewVisitor();
        var found = 0;
        foreach (var file in files)
        {
            var answer = await stranger.GetAsync("/" + Path.GetRelativePath(root, file).Replace('\\', '/'));
            found += answer.Status == HttpStatusCode.OK ? 1 : 0;
        }

        Assert.True(found >= 15, $"{found} of {files.Length} files");
        Assert.Empty(server.Rules.Faults.Distinct());
    }

    [Fact]
    public async Task Behind_https_the_browser_is_told_to_stay_there()
    {
        var settings = server.Service<ServerSettings>();
        var usual = settings.PublicBaseUrl;
        try
        {
            settings.PublicBaseUrl = "https://proofs.lindhag.example";

            var answers = new[]
            {
                await server.Staff.GetAsync("/live"),
                await server.Staff.GetAsync("/nowhere"),
                await server.Staff.GetAsync("/css/base.css"),
            };

            Assert.All(
                answers,
                a => Assert.Equal("max-age=63072000; includeSubDomains", a.Headers["Strict-Transport-Security"])
            );
        }
        finally
        {
            settings.PublicBaseUrl = usual;
        }
    }

    /// <summary>What is no request at all never reaches us: the listener refuses it, bare, and does not say what it is.</summary>
    [Theory]
    [InlineData("GET / HTTP/1.1\r\nHost: a\r\nno colon here\r\n\r\n", "400 Bad Request")]
    [InlineData("GET /\0 HTTP/1.1\r\nHost: a\r\n\r\n", "400 Bad Request")]
    [InlineData("GET / HTTP/1.1\r\n\r\n", "400 Bad Request")]
    public async Task What_is_no_request_is_refused_without_a_word(string bytes, string status)
    {
        var answer = await RawAsync(bytes);

        Assert.StartsWith($"HTTP/1.1 {status}\r\nContent-Length: 0\r\nConnection: close\r\n", answer);
        Assert.DoesNotContain("Server:", answer);
    }

    private Task<Page> WithAsync(string header, string value, string path, HttpMethod? method = null)
    {
        var request = new HttpRequestMessage(method ?? HttpMethod.Get, path);
        request.Headers.TryAddWithoutValidation(header, value);
        return server.Staff.SendAsync(request);
    }

    // Says how much it would send and sends nothing: the refusal does not wait for it.
    private async Task<Page> TooLargeAsync() =>
        Read(
            "/sign-in",
            await RawAsync(
                "POST /sign-in HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 99000000\r\nConnection: close\r\n\r\n"
            )
        );

    // From an address of its own, so that nobody else is held up.
    private async Task<Page> TooOftenAsync()
    {
        var settings = server.Service<ServerSettings>();
        var usual = settings.RequestsPerMinute;
        settings.RequestsPerMinute = 3;
        try
        {
            Page answer;
            var asked = 0;
            do answer = Read(
                "/live",
                await RawAsync("GET /live HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n", "127.0.0.77")
            );
            while (answer.Status == HttpStatusCode.OK && ++asked < 50);
            return answer;
        }
        finally
        {
            settings.RequestsPerMinute = usual;
        }
    }

    private async Task<string> RawAsync(string bytes, string from = "127.0.0.1")
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(IPAddress.Parse(from), 0));
        await socket.ConnectAsync(IPAddress.Loopback, server.Address.Port);
        await socket.SendAsync(Encoding.Latin1.GetBytes(bytes));
        await using var stream = new NetworkStream(socket);
        using var all = new MemoryStream();
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(20));
        try
        {
            await stream.CopyToAsync(all, patience.Token);
        }
        catch (IOException)
        {
            // The listener may reset a connection whose body it never read; the answer is there already.
        }
        return Encoding.UTF8.GetString(all.ToArray());
    }

    private static Page Read(string path, string answer)
    {
        var head = answer.Split("\r\n\r\n")[0].Split("\r\n");
        return new Page(
            path,
            (HttpStatusCode)int.Parse(head[0].Split(' ')[1]),
            Encoding.UTF8.GetBytes(answer[(answer.IndexOf("\r\n\r\n", StringComparison.Ordinal) + 4)..]),
            head[1..]
                .Select(line => line.Split(": ", 2))
                .GroupBy(pair => pair[0], StringComparer.OrdinalIgnoreCase)
                .ToDictionary(
                    g => g.Key,
                    g => string.Join(", ", g.Select(pair => pair[1])),
                    StringComparer.OrdinalIgnoreCase
                )
        );
    }
}
