using System.IO.Compression;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Web.Proofs;

namespace ProofDesk.Web.Records;

/// <summary>Bound files of a version as one archive. Whether they may leave was decided before.</summary>
/// <param name="early">NOT RELEASED is put outside the image of each film</param>
internal sealed class FilmsResult(
    ReadVersion read,
    string name,
    FileRole[] leaving,
    IFileStore files,
    bool early = false
) : IActionResult
{
    /// <summary>What leaves for the press.</summary>
    public static FileRole[] Leaving { get; } =
    [FileRole.Plate, FileRole.PlatesPdf, FileRole.InkList, FileRole.Production];

    public async Task ExecuteResultAsync(ActionContext context)
    {
        var response = context.HttpContext.Response;
        var cancel = context.HttpContext.RequestAborted;
        response.ContentType = "application/zip";
        response.Headers.ContentDisposition =
            $"attachment; filename=\"order-{read.Order.Number}-version-{read.Version.Number}-{name}.zip\"";
        // The archive's directory is written with blocking calls, which the server refuses on its own stream.
        await using var buffer = ScratchFile.Open();
        await WriteAsync(buffer, cancel);
        buffer.Position = 0;
        response.ContentLength = buffer.Length;
        await buffer.CopyToAsync(response.Body, cancel);
    }

    private async Task WriteAsync(Stream output, CancellationToken cancel)
    {
        await using var zip = new ZipArchive(output, ZipArchiveMode.Create, leaveOpen: true);
        foreach (
            var file in read
                .Version.Files.Where(f => leaving.Contains(f.Role))
                .OrderBy(f => f.Path, StringComparer.Ordinal)
        )
        {
            var bytes = await files.ReadCheckedAsync(file.Sha256, cancel);
            if (early && file.Role == FileRole.Plate)
            {
                using var stamped = new MemoryStream();
                EarlyFilms.Write(bytes, stamped, cancel);
                bytes = stamped.ToArray();
            }
            await using var entry = await zip.CreateEntry(file.Path, CompressionLevel.Fastest).OpenAsync(cancel);
            await entry.WriteAsync(bytes, cancel);
        }
    }
}
