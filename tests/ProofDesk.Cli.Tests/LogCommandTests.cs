using System.Text.RegularExpressions;
using ProofDesk.Adapters;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Cli.Tests;

/// <summary>The verbs that write into a shop's log: on a shop that has nothing in it yet, whole outputs.</summary>
public sealed class LogCommandTests : IAsyncLifetime
{
    private const string Vkey = @"proofdesk\.local/proofs/1\+[0-9a-f]{8}\+[A-Za-z0-9+/]{44}";
    private readonly string folder = Directory.CreateTempSubdirectory("proofdesk-log-").FullName;

    public async Task InitializeAsync()
    {
        var data = new DataFolder(folder);
        using var office = new Office(new OfficeSettings { DataFolder = folder }, data);
        using var opening = new OfficeOpening(office, data);
        await opening.OpenAsync();
    }

    public Task DisposeAsync()
    {
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
        return Task.CompletedTask;
    }

    [Fact]
    public async Task A_key_is_shown_followed_by_another_and_revoked()
    {
        var (_, old, _) = await RunAsync("log-key", "show");
        Assert.Matches($"^{Vkey}\n$", old);
        var key = old.TrimEnd('\n');

        var (code, output, error) = await RunAsync("log-key", "rotate", "--by", "owner");

        Assert.Equal((0, ""), (code, error));
        Assert.Matches(
            $"^new key      {Vkey}\nbefore       {Regex.Escape(key)}\nin the log   entry 0, signed by both keys:\n\nproofdesk.local/proofs/1\n1\n[^\n]+\n\n(— [^\n]+\n){{2}}\npublish the new key where the old one stands; keep both lines: old packets need the old one\n$",
            output
        );
        Assert.Equal(
            (
                0,
                $"in the log   entry 1\npublish this line in place of the key's own; who checks with it is told what no longer counts:\n{key} until 2\n",
                ""
            ),
            await RunAsync("log-key", "revoke", key, "--from", "2")
        );
        Assert.Matches($"^{Regex.Escape(key)} until 2\n{Vkey}\n$", (await RunAsync("log-key", "show")).Output);
        Assert.Equal(
            (3, "", $"{key} was revoked before, from 2 entries on\n"),
            await RunAsync("log-key", "revoke", key, "--from", "2")
        );
    }

    [Fact]
    public async Task What_cannot_be_done_is_said()
    {
        Assert.Equal(
            (3, "", "the log continues what was signed before, so nothing is lost and no new epoch is needed\n"),
            await RunAsync("log-epoch", "open")
        );
        Assert.Equal(
            (1, "", "no decision, invitation or mail of ada@harbour.example was found\n"),
            await RunAsync("erase-person", "ada@harbour.example", "--why", "asked")
        );
        var (code, _, error) = await RunAsync("erase-person", "ada@harbour.example");
        Assert.Equal(2, code);
        Assert.StartsWith("--why is missing\nusage: proofdesk erase-person ADDRESS", error, StringComparison.Ordinal);
        Assert.StartsWith(
            "log-key needs show, rotate or revoke KEY\n",
            (await RunAsync("log-key", "turn")).Error,
            StringComparison.Ordinal
        );
        var nowhere = Path.Combine(folder, "nowhere");
        Assert.Equal(
            (
                3,
                "",
                $"there is no {Path.Combine(nowhere, "proofdesk.db")}; name the server's data folder with --data\n"
            ),
            await Terminal.RunAsync("log-key", "show", "--data", nowhere)
        );
        Assert.False(Directory.Exists(nowhere));
    }

    private Task<(int Code, string Output, string Error)> RunAsync(params string[] args) =>
        Terminal.RunAsync([.. args, "--data", folder]);
}
