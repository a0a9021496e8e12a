using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class LogKeyTests
{
    [SkippableTheory, OnBothEngines]
    public async Task A_new_key_begins_under_both_signatures_and_the_old_one_goes_on_verifying_what_it_signed(
        Engine engine
    )
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var old = shop.Log.VerifierKey;
        var before = await DecidedAsync(shop, "n1");
        var packet = await PacketAsync(shop, before);

        var change = await shop.Get<LogKeys>().RotateAsync("owner");

        Assert.Equal((old, change.Key), (change.Before, shop.Log.VerifierKey));
        Assert.NotEqual(old, change.Key);
        var both = SignedNote.Open(change.Leaf.CheckpointNote, [VerifierKey.Parse(old), VerifierKey.Parse(change.Key)]);
        Assert.Equal([old, change.Key], both.Signers.Select(key => key.ToString()));
        Assert.Equal($"{old}\n{change.Key}\n", await File.ReadAllTextAsync(shop.Folder.Trust));
        Assert.Equal(packet, await PacketAsync(shop, before));
        var after = await PacketAsync(shop, await DecidedAsync(shop, "n2"));
        Assert.Equal(
            ["0 1", "1 0"],
            new[] { packet, after }.Select(zip => $"{ExitCode(zip, old)} {ExitCode(zip, change.Key)}")
        );
        await shop.RestartAsync();
        Assert.Equal(change.Key, shop.Log.VerifierKey);
        Assert.Equal(0, ExitCodeByTrust(shop, await PacketAsync(shop, before)));
        Assert.Equal(0, ExitCodeByTrust(shop, after));
    }

    [Theory]
    [InlineData("log-key.after-next", false)]
    [InlineData("log-key.after-commit", true)]
    public async Task A_rotation_that_is_cut_off_either_happened_or_never_did(string point, bool happened)
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await shop.FrozenVersionAsync();
        var old = shop.Log.VerifierKey;
        Fault.OnPoint = name =>
        {
            if (name == point)
            {
                throw new IOException($"cut off at {name}");
            }
        };
        await Assert.ThrowsAsync<IOException>(() => shop.Get<LogKeys>().RotateAsync("owner"));
        Fault.OnPoint = null;

        await shop.RestartAsync();

        Assert.Equal(happened, shop.Log.VerifierKey != old);
        Assert.False(File.Exists(shop.Folder.NextLogKey));
        await shop.FrozenVersionAsync();
        await shop.RestartAsync();
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_revoked_key_counts_for_smaller_logs_only_and_packets_come_under_the_next_key(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var old = shop.Log.VerifierKey;
        var first = await DecidedAsync(shop, "n1"); // entries 0 and 1, sealed at size 2
        var second = await DecidedAsync(shop, "n2"); // entries 2 and 3, sealed at size 4
        var (small, large) = (await PacketAsync(shop, first), await PacketAsync(shop, second));
        var change = await shop.Get<LogKeys>().RotateAsync("owner");

        await shop.Get<LogKeys>().RevokeAsync(old, 4, "owner");

        Assert.Equal($"{old} until 4\n{change.Key}\n", await File.ReadAllTextAsync(shop.Folder.Trust));
        Assert.Equal(0, ExitCodeByTrust(shop, small));
        var verdict = VerifyByTrust(shop, large);
        Assert.Equal(
            $"not valid: the key {Short(old)} counts for a log of fewer than 4 entries, by your trust file; the packet's checkpoint has 4 and no other key signed it",
            verdict.Summary
        );
        Assert.Equal(small, await PacketAsync(shop, first));
        var again = await PacketAsync(shop, second);
        Assert.NotEqual(large, again);
        Assert.Equal(0, ExitCodeByTrust(shop, again));
    }

    [Fact]
    public async Task The_key_that_signs_now_an_unknown_one_and_one_already_revoked_are_not_revoked()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await shop.FrozenVersionAsync();
        var keys = shop.Get<LogKeys>();
        var old = shop.Log.VerifierKey;
        var stranger = new SigningKey("lindhag.example/proofs/1", new byte[32]).Verifier.ToString();

        Assert.Equal(
            $"{old} signs the log now; begin a new key first: proofdesk log-key rotate",
            (await Assert.ThrowsAsync<LogRefusedException>(() => keys.RevokeAsync(old, 1, "owner"))).Message
        );
        await keys.RotateAsync("owner");
        await keys.RevokeAsync(old, 1, "owner");
        Assert.Equal(
            $"{old} was revoked before, from 1 entries on",
            (await Assert.ThrowsAsync<LogRefusedException>(() => keys.RevokeAsync(old, 1, "owner"))).Message
        );
        Assert.StartsWith(
            $"{stranger} never signed this log; its keys are {old}, ",
            (await Assert.ThrowsAsync<LogRefusedException>(() => keys.RevokeAsync(stranger, 1, "owner"))).Message,
            StringComparison.Ordinal
        );
    }

    internal static async Task<Guid> DecidedAsync(TestShop shop, string nonce) =>
        Assert
            .IsType<DecisionResult.Recorded>(
                await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync(), nonce))
            )
            .DecisionId;

    internal static async Task<byte[]> PacketAsync(TestShop shop, Guid decision)
    {
        using var zip = new MemoryStream();
        await shop.Records.WritePacketAsync((await shop.Records.PacketAsync(decision))!, zip);
        return zip.ToArray();
    }

    internal static int ExitCode(byte[] zip, string key) =>
        PacketVerifier.Verify(new MemoryStream(zip), new VerifyOptions([VerifierKey.Parse(key)], [])).ExitCode;

    internal static Verdict VerifyByTrust(TestShop shop, byte[] zip) =>
        PacketVerifier.Verify(
            new MemoryStream(zip),
            new VerifyOptions([], TrustFile.Parse(File.ReadAllText(shop.Folder.Trust), "trust"))
        );

    private static int ExitCodeByTrust(TestShop shop, byte[] zip) => VerifyByTrust(shop, zip).ExitCode;

    private static string Short(string key) => string.Join('+', key.Split('+')[..2]);
}
