using System.Text;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Tests.Database;
using ProofDesk.Adapters.Tests.Mail.Peers;
using Xunit.Abstractions;

namespace ProofDesk.Adapters.Tests.Mail;

/// <summary>
/// Each fault at each of three servers of other people's making, and what becomes of the letter: docs/mail-faults.md is written by
/// this test (PROOFDESK_WRITE_FACTS=1) and compared with it word for word.
/// </summary>
public sealed class MailTableTests(ITestOutputHelper output)
{
    private const string Heading = """
        # What becomes of a letter

        Written by `MailTableTests` and compared with it on every run. Each fault is played by a mail server that we did not write; it
        stands until the first try is over and is mended then. The clock of the desk is moved on to the time it has noted for the next
        try. "The same bytes" compares what the server stored. Faults that no such server can be made to play (silence, a line cut amid
        a command, a broken greeting) are played by one of ours: the table of [running-a-server.md](running-a-server.md#mail).

        | fault | SmtpServer 11 | aiosmtpd 1.4 | exim 4.96 |
        |---|---|---|---|

        """;

    private static readonly (string At, string Name)[] Commands =
    [
        ("mail", "MAIL FROM"),
        ("rcpt", "RCPT TO"),
        ("data", "the final dot"),
    ];

    private static readonly int[] Codes = [421, 451, 550, 554];

    [SkippableFact]
    public async Task The_table_in_the_docs_shows_what_becomes_of_a_letter_at_each_server()
    {
        var folder = Directory.CreateTempSubdirectory("proofdesk-authority-").FullName;
        var ours = new TestAuthority(folder, "localhost");
        var another = new TestAuthority(Directory.CreateDirectory(Path.Combine(folder, "other")).FullName, "localhost");
        (bool IsThere, Func<TestAuthority?, Task<IMailPeer>> Start)[] peers =
        [
            (true, SmtpServerPeer.StartAsync),
            (AiosmtpdPeer.IsThere, AiosmtpdPeer.StartAsync),
            (EximPeer.IsThere, EximPeer.StartAsync),
        ];

        var columns = await Task.WhenAll(
            peers.Select(peer =>
                peer.IsThere ? ColumnAsync(peer.Start, ours, another) : Task.FromResult<List<string>>([])
            )
        );

        Directory.Delete(folder, recursive: true);
        var faults = Faults().ToList();
        var table = new StringBuilder(Heading.ReplaceLineEndings("\n"));
        for (var row = 0; row < faults.Count; row++)
        {
            table.Append(
                $"| {faults[row]} | {string.Join(" | ", columns.Select(column => column.Count == 0 ? "(not installed)" : column[row]))} |\n"
            );
        }
        output.WriteLine(table.ToString());
        var path = Path.Combine(QuickPrograms.Root(), "docs/mail-faults.md");
        if (Environment.GetEnvironmentVariable("PROOFDESK_WRITE_FACTS") == "1")
        {
            await File.WriteAllTextAsync(path, table.ToString());
        }
        var docs = (await File.ReadAllTextAsync(path)).ReplaceLineEndings("\n");
        var lines = docs.Split('\n').Where(line => line.StartsWith("| ", StringComparison.Ordinal)).Skip(1).ToList();
        Assert.Equal(faults, lines.Select(line => line.Split(" | ")[0][2..]));
        for (var at = 0; at < columns.Length; at++)
        {
            if (columns[at].Count > 0)
            {
                Assert.Equal(columns[at], lines.Select(line => line.Split(" | ")[at + 1].TrimEnd(' ', '|')));
            }
        }
        Assert.StartsWith(Heading.ReplaceLineEndings("\n"), docs, StringComparison.Ordinal);
        Skip.If(
            columns.Any(column => column.Count == 0),
            "compared for the servers that are there; apt-get install python3-aiosmtpd exim4-daemon-light and run as root for all three"
        );
    }

    private static IEnumerable<string> Faults() =>
        [
            "none",
            .. Commands.SelectMany(command => Codes.Select(code => $"{code} to {command.Name}")),
            "the answer to the final dot is lost",
            "we die between the server's yes and our mark",
            "none, STARTTLS with a certificate of the authority we trust",
            "no STARTTLS on offer, and we ask for it",
            "STARTTLS with a certificate of another authority",
        ];

    private static async Task<List<string>> ColumnAsync(
        Func<TestAuthority?, Task<IMailPeer>> start,
        TestAuthority ours,
        TestAuthority another
    )
    {
        var column = new List<string>();
        await using var peer = await start(null);
        await using (var shop = await ShopAsync(peer.Port, MailSecurity.NoneOnLoopback))
        {
            column.Add(await OutcomeAsync(shop, peer));
            foreach (var (at, _) in Commands)
            {
                foreach (var code in Codes)
                {
                    peer.Answer(at, $"{code} told so");
                    column.Add(await OutcomeAsync(shop, peer));
                }
            }
        }
        await using (var line = new CutLine(peer.Port))
        await using (var shop = await ShopAsync(line.Port, MailSecurity.NoneOnLoopback))
        {
            column.Add(await OutcomeAsync(shop, peer));
        }
        await using (var shop = await ShopAsync(peer.Port, MailSecurity.NoneOnLoopback))
        {
            column.Add(await DiedAsync(shop, peer));
        }
        await using var secure = await start(ours);
        await using (var shop = await ShopAsync(secure.Port, MailSecurity.StartTls, ours))
        {
            column.Add(await OutcomeAsync(shop, secure));
        }
        await using (var shop = await ShopAsync(peer.Port, MailSecurity.StartTls, ours))
        {
            column.Add(await OutcomeAsync(shop, peer, canMend: false));
        }
        await using (var shop = await ShopAsync(secure.Port, MailSecurity.StartTls, another))
        {
            column.Add(await OutcomeAsync(shop, secure, canMend: false));
        }
        return column;
    }

    private static Task<TestShop> ShopAsync(int port, MailSecurity security, TestAuthority? trusted = null) =>
        TestShop.OpenAsync(
            Engine.Sqlite,
            settings =>
                settings.Mail = new MailSettings
                {
                    Host = "localhost",
                    Port = port,
                    Security = security,
                    AuthorityFile = trusted?.AuthorityFile ?? "",
                }
        );

    private static async Task<string> OutcomeAsync(TestShop shop, IMailPeer peer, bool canMend = true)
    {
        var before = peer.Taken().Count;
        var proof = await shop.SentVersionAsync();
        var runner = shop.Get<OutboxRunner>();
        Assert.True(await runner.RunOneAsync("one", CancellationToken.None));
        var first = await CardAsync(shop, proof);
        peer.Answer("", "");
        switch (first.State)
        {
            case MailState.Sent:
                return $"delivered {Times(peer, before, proof)}";
            case MailState.Bounced:
                Assert.Equal(before, peer.Taken().Count);
                Assert.Equal(1, await shop.Outbox.TroubleAsync());
                await shop.Outbox.TryAgainAsync(proof.MailId, "anna");
                await runner.RunOneAsync("one", CancellationToken.None);
                return $"bounced, staff sees it on the order; sent again by hand: delivered {Times(peer, before, proof)}";
            case MailState.Paused when !canMend:
                Assert.Equal((before, 0), (peer.Taken().Count, first.Attempts));
                return "refused by us, all letters pause; nothing left in the clear";
            case MailState.Paused:
                Assert.Equal((before, 0), (peer.Taken().Count, first.Attempts));
                await runner.ResumeAsync(CancellationToken.None);
                await runner.RunOneAsync("one", CancellationToken.None);
                return $"all letters pause; after the next start delivered {Times(peer, before, proof)}";
            default:
                var wait = first.NextAttemptAt!.Value - shop.Time.GetUtcNow();
                shop.Time.Advance(wait);
                Assert.True(await runner.RunOneAsync("one", CancellationToken.None));
                Assert.Equal(MailState.Sent, (await CardAsync(shop, proof)).State);
                var sure = first.State == MailState.Uncertain ? "uncertain, " : "";
                return $"{sure}tried again after {wait.TotalMinutes:0.#} min: delivered {Times(peer, before, proof)}";
        }
    }

    private static async Task<string> DiedAsync(TestShop shop, IMailPeer peer)
    {
        var before = peer.Taken().Count;
        var proof = await shop.SentVersionAsync();
        Fault.OnPoint = name =>
        {
            if (name == "outbox.after-delivery")
            {
                throw new IOException("died");
            }
        };
        await Assert.ThrowsAsync<IOException>(() =>
            shop.Get<OutboxRunner>().RunOneAsync("one", CancellationToken.None)
        );
        Fault.OnPoint = null;
        await shop.RestartAsync();
        Assert.True(await shop.Get<OutboxRunner>().RunOneAsync("two", CancellationToken.None));
        Assert.Equal(MailState.Sent, (await CardAsync(shop, proof)).State);
        return $"tried again at the next start: delivered {Times(peer, before, proof)}";
    }

    private static async Task<MailCard> CardAsync(TestShop shop, SentProof proof) =>
        (await shop.Outbox.ListAsync(null)).Single(card => card.Id == proof.MailId);

    private static string Times(IMailPeer peer, int before, SentProof proof)
    {
        // Long lines are broken in transport with a sign of equality at their end.
        var letters = peer.Taken()
            .Select(letter => letter.ReplaceLineEndings("\n").Replace("=\n", "", StringComparison.Ordinal))
            .Where(letter => letter.Contains($"{proof.MailId}@", StringComparison.Ordinal))
            .ToList();
        Assert.Equal(before + letters.Count, peer.Taken().Count);
        Assert.All(letters, letter => Assert.Contains($"/r/{proof.Token}", letter, StringComparison.Ordinal));
        return (letters.Count, letters.Distinct(StringComparer.Ordinal).Count()) switch
        {
            (0, _) => "never",
            (1, _) => "once",
            (2, 1) => "twice, the same bytes",
            var (all, different) => $"{all} times, {different} different",
        };
    }
}
