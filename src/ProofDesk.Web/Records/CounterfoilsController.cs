using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Documents;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Records;

/// <summary>The record of a decision as one page of PDF.</summary>
[Needs(Right.ReadRecords)]
public sealed class CounterfoilsController(RecordReader records, DerivedPictures pictures) : Controller
{
    [HttpGet("/records/{id:guid}/counterfoil.pdf")]
    public async Task<IActionResult> Pdf(Guid id, string? paper, CancellationToken cancel)
    {
        if (await records.FindAsync(id, cancel) is not { } page)
            return NotFound();
        var garment = page.Read.File(page.Read.Summary.Prints[0].Grounds[0].GarmentPath)!;
        var picture = await pictures.JpegAsync(garment.Sha256, CounterfoilPdf.PicturePixels, cancel);
        return File(
            CounterfoilPdf.Write(page, picture, PaperSize.Of(paper)),
            "application/pdf",
            $"record-{page.Read.Order.Number}-version-{page.Read.Version.Number}.pdf"
        );
    }
}
