using System.Buffers.Binary;
using Microsoft.Extensions.Caching.Memory;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Web.Reviews;

/// <summary>Width and height of bound PNGs, so that a page keeps their room before they arrive. Read from the file's head only.</summary>
public sealed class PictureSizes(IFileStore files, IMemoryCache cache)
{
    // Signature (8), length and name of the first chunk (8), then width and height (PNG 5.2, 11.2.1).
    private const int HeadBytes = 24;

    public (int Width, int Height) Of(string sha256) =>
        cache.GetOrCreate(
            "size " + sha256,
            entry =>
            {
                entry.Size = HeadBytes;
                var head = new byte[HeadBytes];
                using var file = files.Open(sha256);
                file.ReadExactly(head);
                return (
                    BinaryPrimitives.ReadInt32BigEndian(head.AsSpan(16)),
                    BinaryPrimitives.ReadInt32BigEndian(head.AsSpan(20))
                );
            }
        );
}
