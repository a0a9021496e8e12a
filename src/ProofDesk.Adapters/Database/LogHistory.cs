using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Adapters.Database;

/// <summary>Who signs the next checkpoint, under which name.</summary>
/// <param name="NewEpoch">Nothing signed before binds it.</param>
internal sealed record LogSigning(string Origin, ImmutableArray<SigningKey> Keys, bool NewEpoch = false)
{
    public static LogSigning Usual(LogHistory history) => new(history.Origin, [history.Key]);
}

/// <summary>
/// The epochs and keys of a log. Their rows are written when the first of them ends; until then the settings' name and the key file
/// are all there is.
/// </summary>
/// <param name="Origin">Name of the newest epoch.</param>
/// <param name="Key">Signs now.</param>
/// <param name="Keys">All that ever signed, with the size from which a revoked one no longer counts.</param>
/// <param name="LostNote">The checkpoint that the newest epoch left behind; empty in the first.</param>
/// <param name="Epoch">Number of the newest epoch, from 1.</param>
internal sealed record LogHistory(
    string Origin,
    SigningKey Key,
    ImmutableArray<TrustedKey> Keys,
    string LostNote,
    int Epoch
)
{
    public ImmutableArray<VerifierKey> Known => [.. Keys.Select(key => key.Key)];

    /// <summary>The lines of the trust file.</summary>
    public string Trust => string.Concat(Keys.Select(key => $"{key}\n"));

    public bool Counts(VerifierKey key, long size) => Keys.Where(k => k.Key == key).All(k => k.CountsAt(size));

    public static async Task<LogHistory> ReadAsync(
        OfficeDb db,
        DataFolder folder,
        string firstOrigin,
        CancellationToken cancel
    )
    {
        var epoch = await db.LogEpochs.AsNoTracking().OrderByDescending(row => row.Number).FirstOrDefaultAsync(cancel);
        var origin = epoch?.Origin ?? firstOrigin;
        var rows = await db.LogKeys.AsNoTracking().OrderBy(row => row.FromSize).ToListAsync(cancel);
        var keys = rows.Select(row => new TrustedKey(VerifierKey.Parse(row.VerifierKey), row.RevokedFromSize)).ToList();
        await FinishRotationAsync(folder, origin, keys, cancel);
        var size = await db.LogLeaves.LongCountAsync(cancel);
        var key = await LogKeyFile.OpenAsync(folder.LogKey, origin, size, cancel);
        if (!keys.Exists(known => known.Key == key.Verifier))
        {
            keys.Add(new TrustedKey(key.Verifier));
        }
        return new(origin, key, [.. keys], epoch?.LostNote ?? "", epoch?.Number ?? 1);
    }

    // A rotation ends with the new key file taking the old one's place. Was its event committed, that is done now; if not, it never was.
    private static async Task FinishRotationAsync(
        DataFolder folder,
        string origin,
        List<TrustedKey> keys,
        CancellationToken cancel
    )
    {
        if (!File.Exists(folder.NextLogKey))
        {
            return;
        }
        var next = await LogKeyFile.ReadAsync(folder.NextLogKey, origin, cancel);
        if (keys.Exists(known => known.Key == next.Verifier))
        {
            File.Move(folder.NextLogKey, folder.LogKey, overwrite: true);
        }
        else
        {
            File.Delete(folder.NextLogKey);
        }
        DurableFile.FlushFolder(folder.Keys);
    }
}
