using ProofDesk.Adapters.Backups;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Work;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>
/// The process that <see cref="KillTests"/> kills: opens (and migrates), freezes, sends, decides, mails and backs up, and says what it
/// tries and what it was told is done.
/// </summary>
internal static class KilledShop
{
    public const string Once = "once";
    public const string Endless = "endless";

    /// <summary>Arguments: data folder, folder for backups, <see cref="Once"/> or <see cref="Endless"/>.</summary>
    public static async Task<int> Main(string[] arguments)
    {
        var settings = new OfficeSettings
        {
            DataFolder = arguments[0],
            LogOrigin = "lindhag.example/proofs/1",
            UndoSeconds = 0,
        };
        var shop = await TestShop.ReopenAsync(settings);
        await shop.AddShopRowAsync();
        // What the last kill interrupted comes first.
        while (await shop.Get<RenderRunner>().RunOneAsync("killed", CancellationToken.None)) { }
        do
        {
            try
            {
                var proof = await shop.SentVersionAsync();
                var nonce = Guid.NewGuid().ToString();
                Say($"tries {nonce}");
                var result = await shop.Deciding.DecideAsync(TestShop.Approval(proof, nonce));
                Say($"decided {((DecisionResult.Recorded)result).DecisionId}");
                await shop.Get<OutboxRunner>().RunOneAsync("killed", CancellationToken.None);
                if (arguments[2] == Once)
                {
                    var to = Path.Combine(arguments[1], Guid.NewGuid().ToString("N"));
                    await new Backup(settings, TimeProvider.System).MakeAsync(to, new BackupChoice());
                    Say($"backed-up {to}");
                }
            }
            // A flush that failed: a server answers "not written" and goes on with the next visitor.
            catch (Exception) when (AFlushFails)
            {
                Say("refused");
            }
        } while (arguments[2] == Endless);
        await shop.CloseAsync();
        Say("ended");
        return 0;
    }

    private static bool AFlushFails =>
        Environment.GetEnvironmentVariable("FLUSHED_FAIL") is { Length: > 0 } and not "0";

    private static void Say(string line)
    {
        Console.WriteLine(line);
        Console.Out.Flush();
    }
}
