using System.Net;
using System.Net.Sockets;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using ProofDesk.Web.Security;

namespace ProofDesk.Web.Tests;

/// <summary>What a load balancer, a supervisor and a collector of numbers ask.</summary>
public sealed class OperationsTests(OperationsTests.WithMetricsPort server)
    : IClassFixture<OperationsTests.WithMetricsPort>
{
    public sealed class WithMetricsPort : RunningServer
    {
        public int MetricsPort { get; } = FreePort();

        protected override IEnumerable<string> Settings => [$"--Server:MetricsPort={MetricsPort}"];

        private static int FreePort()
        {
            using var listener = new TcpListener(IPAddress.Loopback, 0);
            listener.Start();
            return ((IPEndPoint)listener.LocalEndpoint).Port;
        }
    }

    [Theory]
    [InlineData("/live", "alive\n")]
    [InlineData("/ready", "ready\n")]
    public async Task A_probe_says_one_word_to_anyone(string path, string word)
    {
        using var anyone = new HttpClient { BaseAddress = Main };

        using var answer = await anyone.GetAsync(path);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal(word, await answer.Content.ReadAsStringAsync());
        Assert.Equal("no-store", answer.Headers.CacheControl!.ToString());
    }

    [Fact]
    public async Task Numbers_are_for_staff_and_for_the_port_of_this_machine()
    {
        using var anyone = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = Main };
        using var collector = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false })
        {
            BaseAddress = new Uri($"http://localhost:{server.MetricsPort}"),
        };

        using var refused = await anyone.GetAsync("/metrics");
        using var given = await collector.GetAsync("/metrics");
        using var desk = await collector.GetAsync("/desk");

        Assert.Equal((HttpStatusCode.Redirect, "/sign-in"), (refused.StatusCode, refused.Headers.Location?.ToString()));
        Assert.Equal(HttpStatusCode.Redirect, desk.StatusCode);
        Assert.Equal(HttpStatusCode.OK, given.StatusCode);
        Assert.Equal(
            "application/openmetrics-text; version=1.0.0; charset=utf-8",
            given.Content.Headers.ContentType!.ToString()
        );
    }

    [Fact]
    public async Task Numbers_are_in_the_open_text_form()
    {
        using var collector = new HttpClient { BaseAddress = new Uri($"http://localhost:{server.MetricsPort}") };
        await server.Staff.GetAsync("/desk");

        var lines = (await collector.GetStringAsync("/metrics")).Split('\n');

        Assert.Equal(["# EOF", ""], lines[^2..]);
        Assert.Contains("proofdesk_log_leaves 0", lines);
        Assert.Contains("proofdesk_disk_reserve_held 1", lines);
        Assert.Contains("# TYPE proofdesk_write_duration_seconds histogram", lines);
        Assert.Contains(
            lines,
            line => line.StartsWith("http_server_request_duration_seconds_count{", StringComparison.Ordinal)
        );
        Assert.All(
            lines[..^2],
            line =>
                Assert.Matches(
                    new Regex(
                        "^(# (TYPE|HELP) [a-z_]+ .+|[a-z_]+(\\{[a-z_]+=\"[^\"]*\"(,[a-z_]+=\"[^\"]*\")*\\})? [-+0-9.eE]+)$"
                    ),
                    line
                )
        );
        // One type a family, whatever the number of its rows.
        Assert.Distinct(lines.Where(line => line.StartsWith("# TYPE", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_log_line_as_JSON_has_no_link_token_in_any_field()
    {
        using var text = new StringWriter();
        KeyValuePair<string, object?>[] values =
        [
            new("Path", "/r/abcDEF123-_"),
            new("{OriginalFormat}", "answered 503 to {Path}"),
        ];
        var entry = new LogEntry<IReadOnlyList<KeyValuePair<string, object?>>>(
            LogLevel.Error,
            "Test",
            1,
            values,
            new InvalidOperationException("at /welcome/SECRET"),
            (state, _) => $"answered 503 to {state[0].Value}"
        );

        new RedactingJson(TimeProvider.System).Write(entry, null, text);

        var line = text.ToString();
        Assert.DoesNotContain("abcDEF123", line, StringComparison.Ordinal);
        Assert.DoesNotContain("SECRET", line, StringComparison.Ordinal);
        Assert.Equal(1, line.Count(c => c == '\n'));
        var json = JsonDocument.Parse(line).RootElement;
        Assert.Equal("answered 503 to /r/...", json.GetProperty("message").GetString());
        Assert.Equal("/r/...", json.GetProperty("values").GetProperty("Path").GetString());
        Assert.Equal("Error", json.GetProperty("level").GetString());
    }

    private Uri Main =>
        new(
            server.App.Urls.Single(url =>
                new Uri(url).Port != server.MetricsPort && !url.Contains("[::", StringComparison.Ordinal)
            )
        );
}
