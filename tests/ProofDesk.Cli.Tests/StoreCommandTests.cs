using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Cli.Tests;

/// <summary>`backup`, `restore` and `verify-store`: exit codes and whole texts.</summary>
public sealed class StoreCommandTests : IDisposable
{
    private readonly string _root = Directory.CreateTempSubdirectory("proofdesk-store-").FullName;

    private string Data => Path.Combine(_root, "data");
    private string Copy => Path.Combine(_root, "copy");
    private string Restored => Path.Combine(_root, "restored");

    public void Dispose() => Directory.Delete(_root, recursive: true);

    [Fact]
    public async Task A_store_is_backed_up_restored_and_whole()
    {
        await MakeAsync();

        var checkedStore = await Terminal.RunAsync("verify-store", Data);
        var backup = await Terminal.RunAsync("backup", Copy, "--data", Data);
        var restore = await Terminal.RunAsync("restore", Copy, "--into", Restored);

        Assert.Equal(
            (
                0,
                """
                0 log entries under 0 checkpoints: 0 versions, 0 decisions, 0 events
                1 stored files, 0.0 MB, 1 of them named by nothing
                whole: everything is as it was sealed

                """.ReplaceLineEndings("\n"),
                ""
            ),
            checkedStore
        );
        Assert.Equal((0, ""), (backup.Code, backup.Error));
        Assert.Matches(
            new Regex(
                @"^\d+ files, \d\.\d MB, log of 0 entries\n"
                    + "the keys are in it: whoever reads this folder can sign in the shop's name and open waiting letters; keep it encrypted\n"
                    + "index [0-9a-f]{64}\n$"
            ),
            backup.Output
        );
        Assert.Equal((0, ""), (restore.Code, restore.Error));
        Assert.EndsWith(
            "the log goes on after 0 entries; compare that with the newest receipt anybody has (--last-seen)\n",
            restore.Output,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task What_is_damaged_is_named_and_the_exit_code_says_so()
    {
        var file = await MakeAsync();
        await File.WriteAllTextAsync(file, "other");

        var checkedStore = await Terminal.RunAsync("verify-store", Data);
        var backup = await Terminal.RunAsync("backup", Copy, "--data", Data);

        Assert.Equal(1, checkedStore.Code);
        Assert.StartsWith(
            "file.changed: a file nothing names is not the file that was stored: ",
            checkedStore.Error,
            StringComparison.Ordinal
        );
        Assert.EndsWith("not whole: 1 findings\n", checkedStore.Output, StringComparison.Ordinal);
        Assert.Equal((1, $"damaged in the store already, copied as it is: {file}\n"), (backup.Code, backup.Error));
    }

    [Fact]
    public async Task A_version_that_is_not_there_cannot_be_made_again()
    {
        await MakeAsync();

        var missing = await Terminal.RunAsync("verify-store", Data, "--rerender", "1001/2");
        var wrong = await Terminal.RunAsync("verify-store", Data, "--rerender", "1001");

        Assert.Equal((3, "no version 2 of order 1001 is frozen in this store\n"), (missing.Code, missing.Error));
        Assert.Equal(
            (
                2,
                "--rerender is an order and its version such as 1001/2; '1001' given\nhint: 'proofdesk verify-store --help' lists the options\n"
            ),
            (wrong.Code, wrong.Error)
        );
    }

    [Fact]
    public async Task What_cannot_be_done_writes_nothing_and_exits_with_3()
    {
        var nowhere = Path.Combine(_root, "nowhere");

        Assert.Equal((3, "", $"there is no data folder {nowhere}\n"), await Terminal.RunAsync("verify-store", nowhere));
        Assert.Equal(
            (3, "", $"there is no data folder with a database at {nowhere}\n"),
            await Terminal.RunAsync("backup", Copy, "--data", nowhere)
        );
        Assert.Equal(
            (3, "", $"there is no folder {nowhere}\n"),
            await Terminal.RunAsync("restore", nowhere, "--into", Restored)
        );
        Assert.Empty(Directory.GetFileSystemEntries(_root));
    }

    [Fact]
    public async Task A_wrong_call_exits_with_2_and_says_how()
    {
        Assert.Equal(
            (2, "", $"which folder?\nhint: 'proofdesk backup --help' lists the options\n"),
            await Terminal.RunAsync("backup")
        );
        Assert.Equal(2, (await Terminal.RunAsync("backup", Copy, "--keys", "perhaps")).Code);
        Assert.Equal(2, (await Terminal.RunAsync("restore", Copy)).Code);
    }

    // An office that was opened once, with one stored file.
    private async Task<string> MakeAsync()
    {
        var services = new ServiceCollection();
        services.AddLogging();
        services.AddOffice(new OfficeSettings { DataFolder = Data });
        await using var provider = services.BuildServiceProvider();
        await provider.OpenOfficeAsync();
        var stored = await provider.GetRequiredService<IFileStore>().PutAsync(new MemoryStream("art"u8.ToArray()));
        return Path.Combine(Data, "blobs", "sha256", stored.Sha256[..2], stored.Sha256[2..4], stored.Sha256);
    }
}
