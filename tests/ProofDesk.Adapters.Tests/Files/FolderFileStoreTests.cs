using System.Security.Cryptography;
using System.Text;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Tests.Files;

public sealed class FolderFileStoreTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-store-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    // FIPS 180-4 examples of "abc", as published by NIST (SHA256.pdf, SHA512.pdf).
    [Fact]
    public async Task Stored_bytes_are_named_by_the_published_digests_of_abc()
    {
        var store = new FolderFileStore(_folder);

        var blob = await store.PutAsync(new MemoryStream("abc"u8.ToArray()));

        Assert.Equal(
            new StoredBlob(
                "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
                "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f",
                3
            ),
            blob
        );
        Assert.Equal("abc", Encoding.ASCII.GetString(await store.ReadCheckedAsync(blob.Sha256)));
        Assert.True(File.Exists(Path.Combine(_folder, "sha256", "ba", "78", blob.Sha256)));
    }

    [Fact]
    public async Task Sixteen_writers_of_the_same_bytes_leave_one_file_and_no_litter()
    {
        var store = new FolderFileStore(_folder);
        var bytes = RandomNumberGenerator.GetBytes(300_000);

        var blobs = await Task.WhenAll(
            Enumerable.Range(0, 16).Select(_ => Task.Run(() => store.PutAsync(new MemoryStream(bytes))))
        );

        Assert.Single(blobs.Distinct());
        Assert.Single(Directory.GetFiles(_folder, "*", SearchOption.AllDirectories));
        Assert.Equal(bytes, await store.ReadCheckedAsync(blobs[0].Sha256));
    }

    [Fact]
    public async Task One_flipped_bit_on_disk_is_noticed_and_mended_by_storing_again()
    {
        var store = new FolderFileStore(_folder);
        var bytes = RandomNumberGenerator.GetBytes(1000);
        var blob = await store.PutAsync(new MemoryStream(bytes));
        var path = Directory.GetFiles(_folder, blob.Sha256, SearchOption.AllDirectories).Single();
        var broken = (byte[])bytes.Clone();
        broken[500] ^= 1;
        await File.WriteAllBytesAsync(path, broken);

        var failure = await Assert.ThrowsAsync<InvalidDataException>(() => store.ReadCheckedAsync(blob.Sha256));

        var found = Convert.ToHexStringLower(SHA256.HashData(broken));
        Assert.Equal($"stored file {blob.Sha256} hashes to {found}; restore it from the backup", failure.Message);
        await store.PutAsync(new MemoryStream(bytes));
        Assert.Equal(bytes, await store.ReadCheckedAsync(blob.Sha256));
    }

    [Theory]
    [InlineData("../../etc/passwd")]
    [InlineData("BA7816BF8F01CFEA414140DE5DAE2223B00361A396177A9CB410FF61F20015AD")]
    [InlineData("")]
    public void A_name_that_is_no_digest_opens_nothing(string name)
    {
        var failure = Assert.Throws<ArgumentException>(() => new FolderFileStore(_folder).Open(name));

        Assert.Equal($"\"{name}\" is not a SHA-256 in 64 lower-case hex digits", failure.Message);
    }

    [Fact]
    public void A_digest_that_is_not_stored_says_what_to_restore()
    {
        var digest = new string('0', 64);

        var failure = Assert.Throws<FileNotFoundException>(() => new FolderFileStore(_folder).Open(digest));

        Assert.Equal(
            $"no stored file has the digest {digest}; restore the blobs folder from its backup",
            failure.Message
        );
    }

    [Fact]
    public async Task A_source_that_breaks_halfway_leaves_nothing()
    {
        var store = new FolderFileStore(_folder);

        await Assert.ThrowsAsync<IOException>(() => store.PutAsync(new BreakingStream()));

        Assert.Empty(Directory.GetFiles(_folder, "*", SearchOption.AllDirectories));
    }

    private sealed class BreakingStream : MemoryStream
    {
        private int _reads;

        public override ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default) =>
            _reads++ == 0 ? ValueTask.FromResult(10) : throw new IOException("the disk went away");
    }
}
