using System.IO.Compression;
using System.Net;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using MimeKit;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Mail;
using ProofDesk.HostileText;
using ProofDesk.Web.Security;
using Xunit.Abstractions;

namespace ProofDesk.Web.Tests.Inventory;

/// <summary>
/// Hostile text in every field of every form, read back wherever it comes out (portal W1, W4, W5, M8, U9): all 2,000 strings with
/// PROOFDESK_LONG=1. In the usual run Browser.Tests types a sample and shows what comes of it to a browser.
/// </summary>
[Collection(OneInventory.Name)]
public sealed class HostileTextTests(InventoryServer server, ITestOutputHelper output)
{
    private static readonly bool IsLong = Environment.GetEnvironmentVariable("PROOFDESK_LONG") == "1";

    // PROOFDESK_PART=2/8 takes every eighth string from the second on: eight runs are the whole.
    private static readonly List<HostileString> Strings = Part();

    [Fact]
    public void There_are_two_thousand_strings_of_all_kinds_and_no_two_alike()
    {
        Assert.Equal(2000, HostileStrings.All.Select(s => s.Text).Distinct(StringComparer.Ordinal).Count());
        Assert.Equal(22, HostileStrings.Kinds.Count());
        Assert.All(
            HostileStrings.Kinds,
            kind => Assert.InRange(HostileStrings.All.Count(s => s.Kind == kind), 40, 200)
        );
        Assert.Equal(HostileStrings.Kinds.Count(), HostileStrings.Sample(22).Select(s => s.Kind).Distinct().Count());
    }

    [Fact]
    public async Task A_page_that_forgets_to_encode_is_found()
    {
        var missed = new List<string>();
        string[] kinds = ["elements", "handlers", "drawings"];
        foreach (var hostile in HostileStrings.All.Take(150).Where(s => kinds.Contains(s.Kind)))
        {
            var run = new HostileRun(server, []);
            var page = await server.Staff.GetAsync("/test-only/echo?what=" + Uri.EscapeDataString(hostile.Text));
            run.Judge("echo", page, keep: false);
            if (run.Faults.Count == 0)
                missed.Add(hostile.Text.Split('>')[0]);
        }

        // Bold text is no more than that, and the parser drops the other two.
        Assert.Equal(["<b", "<template", "<?xml version=\"1.0\"?"], missed);
    }

    /// <summary>In the usual run HostilePagesTests types a sample and shows it to a browser.</summary>
    [SkippableFact]
    public async Task Text_stays_text_in_every_field_of_every_form()
    {
        Skip.IfNot(IsLong, "every field of every form is typed into with PROOFDESK_LONG=1");
        await server.StopRendersAsync();
        var run = new HostileRun(server, Strings);
        try
        {
            foreach (var (path, who, form) in await run.FormsAsync())
                await run.TypeAsync(path, who, form, 0, Strings.Count, again: Strings.Count);
        }
        finally
        {
            await server.ForgetDraftsAsync();
            await server.StartRendersAsync();
        }
        output.WriteLine(run.Figures);
        output.WriteLine(string.Join('\n', run.Fields));

        Assert.True(
            run.Faults.Count == 0,
            string.Join('\n', run.Faults.Distinct().Take(40).Select(f => f[..Math.Min(260, f.Length)]))
        );
        Assert.True(run.Fields.Count >= 35, run.Figures);
        Assert.True(run.Kept >= 30 && run.Refused > 0, run.Figures);
        Assert.Empty(server.Rules.Faults.Distinct());
        await LettersAsync();
    }

    /// <summary>What is bound and handed over: packet, manifest, ink list, plates.pdf, the films' names.</summary>
    [Fact]
    public async Task Text_stays_text_in_what_is_frozen_signed_and_handed_over()
    {
        var kept = HostileStrings
            .Sample(220)
            .Where(s => PlainText.Foreign(HostileForm.AsRead(s.Text)) is null && s.Text.Length < 150)
            .ToList();
        for (var round = 0; round < (IsLong ? 20 : 1); round++)
        {
            string At(int i) => HostileForm.AsRead(kept[(round * 7 + i) % kept.Count].Text).Trim();
            var (client, review, version) = await server.InvitedClientAsync(
                At(0),
                new()
                {
                    ["Title"] = At(0),
                    ["ClientName"] = At(1),
                    ["Words"] = $"{At(2)}\n{At(3)}",
                    ["Notes"] = At(4),
                }
            );
            var run = new HostileRun(server, []);
            var last = await client.PostAsync(
                await client.GetAsync(review + "/approve"),
                new(RunningServer.AllTicked)
                {
                    ["Name"] = At(5),
                    ["Comment"] = At(6),
                    ["Means"] = "remark",
                }
            );
            run.Judge("last look", last, keep: false);
            Assert.True(last.Status == HttpStatusCode.OK, last.Text);
            var decided = await client.PostAsync(last);
            Assert.True(decided.Status == HttpStatusCode.SeeOther, $"{At(5)} | {At(6)}: {decided.Text}");
            var order = (await server.OrderOfAsync(version)).Id;
            foreach (
                var (who, path) in new[]
                {
                    (client, decided.Location!),
                    (client, review),
                    (server.Staff, $"/records/{decided.Location!.Split('/')[^1]}"),
                    (server.Staff, $"/versions/{version}"),
                    (server.Staff, $"/versions/{version}/send"),
                    (server.Staff, $"/versions/{version}/films"),
                    (server.Staff, $"/versions/{version}/production"),
                    (server.Staff, $"/versions/{version}/reorder"),
                    (server.Staff, $"/versions/{version}/light-table"),
                    (server.Staff, $"/orders/{order}"),
                    (server.Staff, "/records"),
                    (server.Staff, "/desk"),
                    (server.Staff, "/outbox"),
                }
            )
            {
                var page = await who.GetAsync(path);
                Assert.Equal(HttpStatusCode.OK, page.Status);
                run.Judge(path, page, keep: false);
            }
            var packet = await client.GetAsync(decided.Location + "/packet.zip");
            await PacketAsync(run, packet);
            Assert.Empty(run.Faults.Distinct());
            client.Dispose();
        }
    }

    [Fact]
    public void A_log_line_stays_one_line()
    {
        var formatter = new RedactingConsole(TimeProvider.System);
        foreach (var hostile in HostileStrings.All)
        {
            using var written = new StringWriter();
            var entry = new LogEntry<string>(
                LogLevel.Warning,
                "Test",
                default,
                HostileForm.AsRead(hostile.Text),
                new InvalidOperationException(HostileForm.AsRead(hostile.Text)),
                (state, _) => state
            );
            formatter.Write(entry, null, written);

            var lines = written.ToString().ReplaceLineEndings("\n").TrimEnd('\n').Split('\n');
            Assert.Matches(@"^\d{4}-\d\d-\d\d \d\d:\d\d:\d\dZ warn  Test: ", lines[0]);
            Assert.All(lines[1..], line => Assert.StartsWith("    ", line, StringComparison.Ordinal));
            Assert.All(lines, line => Assert.DoesNotContain(line, c => char.IsControl(c) || c is '\u2028' or '\u202e'));
        }
    }

    [Theory]
    [InlineData("../../etc/passwd", "passwd")]
    [InlineData("C:\\art\\crest.svg", "crest.svg")]
    [InlineData("gnp.\u202egvs.exe", "gnp.gvs.exe")]
    [InlineData("cre\0st\r\n.svg", "crest.svg")]
    [InlineData("e\u0301.png", "\u00e9.png")]
    public void A_files_name_is_kept_as_text(string given, string kept) =>
        Assert.Equal(kept, PlainText.FileName(given));

    [Fact]
    public void A_files_name_is_at_most_200_characters_and_keeps_its_ending()
    {
        var name = PlainText.FileName(
            new string('\ud83d', 0) + string.Concat(Enumerable.Repeat("\ud83d\udc55", 400)) + ".svg"
        );

        Assert.InRange(name.Length, 150, 200);
        Assert.EndsWith(".svg", name);
        Assert.Equal(name, HostileForm.AsRead(name));
    }

    private static List<HostileString> Part()
    {
        var part = (Environment.GetEnvironmentVariable("PROOFDESK_PART") ?? "1/1")
            .Split('/')
            .Select(int.Parse)
            .ToList();
        return [.. HostileStrings.All.Where(s => s.Number % part[1] == part[0] % part[1])];
    }

    // Every letter there is.
    private async Task LettersAsync()
    {
        var ids = await server.ReadAsync(db =>
            db.OutboxMails.OrderByDescending(m => m.Id).Select(m => m.Id).Take(IsLong ? 5000 : 60).ToListAsync()
        );
        var address = await server.ReadAsync(db => db.Shop.Select(s => s.PublicBaseUrl).SingleAsync());
        var faults = new List<string>();
        var read = 0;
        foreach (var id in ids)
        {
            var path = server.Service<PickupFolder>().PathOf(id);
            if (!File.Exists(path))
                continue;
            using var letter = await MimeMessage.LoadAsync(path);
            read++;
            faults.AddRange(ForeignInLetters.In(letter, address));
        }
        output.WriteLine($"{read} letters");
        Assert.True(read > 0);
        Assert.Empty(faults.Distinct());
    }

    private static async Task PacketAsync(HostileRun run, Page packet)
    {
        Assert.Equal(HttpStatusCode.OK, packet.Status);
        using var zip = new ZipArchive(new MemoryStream(packet.Bytes));
        foreach (var entry in zip.Entries)
        {
            Assert.Matches(@"^[a-zA-Z0-9][a-zA-Z0-9_.\-/]*$", entry.FullName);
            Assert.DoesNotContain("..", entry.FullName);
            await using var stream = await entry.OpenAsync();
            using var bytes = new MemoryStream();
            await stream.CopyToAsync(bytes);
            var text = Encoding.UTF8.GetString(bytes.ToArray());
            if (entry.FullName.EndsWith(".json", StringComparison.Ordinal))
                using (JsonDocument.Parse(bytes.ToArray())) { }
            if (entry.FullName.EndsWith(".svg", StringComparison.Ordinal))
                System.Xml.Linq.XDocument.Parse(text);
            if (entry.FullName.EndsWith(".csv", StringComparison.Ordinal))
                Assert.DoesNotMatch("(^|[,;\n])\"?[=+@\t]", text);
            if (
                entry.FullName.EndsWith(".html", StringComparison.Ordinal)
                && !entry.FullName.EndsWith("verify.html", StringComparison.Ordinal)
            )
                run.Faults.AddRange(
                    ForeignMarkup
                        .In(ForeignMarkup.Parse(text), "")
                        .Where(f => f.Contains("pdx", StringComparison.Ordinal))
                        .Select(f => $"{entry.FullName}: {f}")
                );
        }
    }
}
