namespace ProofDesk.Adapters.Files;

/// <summary>Both digests and the length of stored bytes; two digests, so that one may fade without losing the record.</summary>
public sealed record StoredBlob(string Sha256, string Sha512, long Bytes);

/// <summary>Bytes named by their SHA-256. Equal name, equal bytes; nothing is ever overwritten.</summary>
public interface IFileStore
{
    Task<StoredBlob> PutAsync(Stream bytes, CancellationToken cancel = default);

    /// <summary>A seekable stream of what is stored, not checked while read.</summary>
    /// <exception cref="FileNotFoundException">no blob has this digest</exception>
    Stream Open(string sha256);

    /// <summary>Reads all of it and compares the digest.</summary>
    /// <exception cref="InvalidDataException">the stored bytes no longer hash to their name</exception>
    Task<byte[]> ReadCheckedAsync(string sha256, CancellationToken cancel = default);

    bool Has(string sha256);
}
