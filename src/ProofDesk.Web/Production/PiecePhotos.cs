using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Events;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Web.Production;

/// <param name="Sha256">what pages show: pixels only, written anew</param>
/// <param name="OriginalSha256">the upload as it came, kept and never shown</param>
public sealed record PiecePhoto(string Sha256, string OriginalSha256);

/// <summary>
/// Photographs of printed pieces. They go the way of uploaded art: read in the closed-off child, and what a browser gets is written
/// anew from pixels, so nothing a camera or a stranger put beside them is passed on.
/// </summary>
public sealed class PiecePhotos(IFileStore files, ArtDecoder decoder, Office office)
{
    /// <summary>The photograph of a version's newest sample; null when none was printed.</summary>
    public async Task<byte[]?> OfAsync(Guid versionId, CancellationToken cancel)
    {
        await using var db = office.Open();
        var made = await db
            .LoggedEvents.AsNoTracking()
            .Where(e => e.VersionId == versionId && e.Kind == EventKind.SampleMade)
            .OrderByDescending(e => e.LeafIndex)
            .FirstOrDefaultAsync(cancel);
        return made is not null && EventJson.Parse(made.EventBytes).Facts.TryGetValue("photo", out var digest)
            ? await files.ReadCheckedAsync(digest, cancel)
            : null;
    }

    private const int MostSide = 1600;

    // Only keeps the decoder's print checks quiet; a photograph is not printed.
    private const double NominalWidthMm = 300;

    /// <exception cref="UnreadableArt">says what is wrong with the file</exception>
    public async Task<PiecePhoto> KeepAsync(IFormFile upload, CancellationToken cancel)
    {
        StoredBlob original;
        await using (var bytes = upload.OpenReadStream())
            original = await files.PutAsync(bytes, cancel);
        Artwork read;
        await using (var stored = files.Open(original.Sha256))
            read = await decoder.DecodeAsync(stored, NominalWidthMm, cancel);
        var jpeg = PictureWriter.Jpeg(OnWhitePaper.Of(read.Pixels, read.Pixels.Width / NominalWidthMm), MostSide);
        var shown = await files.PutAsync(new MemoryStream(jpeg), cancel);
        return new(shown.Sha256, original.Sha256);
    }
}
