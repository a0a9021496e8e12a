using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Adapters.Database;

public abstract record Claimed
{
    private Claimed() { }

    /// <summary>Nobody asked this before: carry it out, then keep or release the claim.</summary>
    public sealed record First(Guid ClaimId) : Claimed;

    /// <summary>It was answered before.</summary>
    public sealed record Answered(ApiAnswer Answer) : Claimed;

    /// <summary>Another request had the name.</summary>
    public sealed record AnotherRequest : Claimed;

    /// <summary>The first one has no answer yet, or never came to its end.</summary>
    public sealed record Unfinished(DateTimeOffset Since) : Claimed;
}

/// <summary>Answers to requests that named themselves, for a week.</summary>
public sealed class ApiAnswers(Office office, TimeProvider time)
{
    public static readonly TimeSpan Kept = TimeSpan.FromDays(7);

    /// <summary>Claims a name for a request, in one transaction: of two that come at once one is the first.</summary>
    public Task<Claimed> ClaimAsync(Guid keyId, string name, byte[] request, CancellationToken cancel = default)
    {
        var digest = SHA256.HashData(Encoding.UTF8.GetBytes(name));
        return office.WriteAsync<Claimed>(
            async db =>
            {
                await db.LockTriesAsync($"api-answer:{keyId}", cancel);
                var now = time.GetUtcNow();
                var old = now - Kept;
                await db.ApiAnswers.Where(row => row.At < old).ExecuteDeleteAsync(cancel);
                var before = await db
                    .ApiAnswers.AsNoTracking()
                    .SingleOrDefaultAsync(row => row.KeyId == keyId && row.NameSha256 == digest, cancel);
                if (before is not null)
                {
                    return !before.RequestSha256.AsSpan().SequenceEqual(request) ? new Claimed.AnotherRequest()
                        : before.Status == 0 ? new Claimed.Unfinished(before.At)
                        : new Claimed.Answered(before);
                }
                var claim = new ApiAnswer
                {
                    KeyId = keyId,
                    NameSha256 = digest,
                    RequestSha256 = request,
                    At = now,
                };
                db.ApiAnswers.Add(claim);
                await db.SaveChangesAsync(cancel);
                return new Claimed.First(claim.Id);
            },
            cancel
        );
    }

    public Task KeepAsync(Guid claimId, ApiAnswer answer, CancellationToken cancel = default) =>
        office.WriteAsync(
            db =>
                db.ApiAnswers.Where(row => row.Id == claimId)
                    .ExecuteUpdateAsync(
                        set =>
                            set.SetProperty(row => row.Status, answer.Status)
                                .SetProperty(row => row.ContentType, answer.ContentType)
                                .SetProperty(row => row.Location, answer.Location)
                                .SetProperty(row => row.ETag, answer.ETag)
                                .SetProperty(row => row.Body, answer.Body),
                        cancel
                    ),
            cancel
        );

    /// <summary>Nothing was carried out: the same name may be used once more, with what was mended.</summary>
    public Task ReleaseAsync(Guid claimId, CancellationToken cancel = default) =>
        office.WriteAsync(
            db => db.ApiAnswers.Where(row => row.Id == claimId && row.Status == 0).ExecuteDeleteAsync(cancel),
            cancel
        );
}
