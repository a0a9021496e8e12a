using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Work;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>The process that <see cref="KillTests"/> kills: freezes, sends, decides and mails without end, and says what it was told is done.</summary>
internal static class KilledShop
{
    public static async Task<int> Main(string[] arguments)
    {
        var shop = await TestShop.ReopenAsync(
            new OfficeSettings { DataFolder = arguments[0], LogOrigin = "lindhag.example/proofs/1" }
        );
        // What the last kill interrupted comes first.
        while (await shop.Get<RenderRunner>().RunOneAsync("killed", CancellationToken.None)) { }
        while (true)
        {
            var proof = await shop.SentVersionAsync();
            var result = await shop.Deciding.DecideAsync(TestShop.Approval(proof, Guid.NewGuid().ToString()));
            Console.WriteLine(((DecisionResult.Recorded)result).DecisionId);
            await shop.Get<OutboxRunner>().RunOneAsync("killed", CancellationToken.None);
        }
    }
}
