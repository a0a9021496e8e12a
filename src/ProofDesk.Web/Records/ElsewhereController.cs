using System.Security.Cryptography;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Records;

public sealed record ElsewherePage(ReadVersion Read, ElsewhereForm Form, DateOnly Today);

/// <summary>
/// Writes down an answer that was given elsewhere. It is a level of its own (S0): record, packet and pages say that staff
/// wrote it, and it is never shown as something the client did here.
/// </summary>
[Needs(Right.WriteAnswers)]
[Route("/versions/{id:guid}/elsewhere")]
public sealed class ElsewhereController(
    VersionReader versions,
    Deciding deciding,
    Artefacts artefacts,
    TimeProvider time
) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> New(Guid id, CancellationToken cancel) =>
        await versions.FindAsync(id, cancel) is { } read
            ? View(
                "Elsewhere",
                Page(
                    read,
                    new ElsewhereForm
                    {
                        Day = Today,
                        Nonce = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16)),
                    }
                )
            )
            : NotFound();

    [HttpPost("")]
    public async Task<IActionResult> Create(Guid id, ElsewhereForm form, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        if (form.Day > Today)
            ModelState.AddModelError(nameof(form.Day), $"The day lies after today, {Layout.Words.Day(Today)}.");
        if (form.Choice == "changes" && form.Requests.Count == 0)
            ModelState.AddModelError(nameof(form.Changes), "Write what shall change.");
        if (!ModelState.IsValid)
            return Again(read, form);
        var result = await deciding.RecordElsewhereAsync(
            new ElsewhereRequest(
                id,
                form.Kind,
                form.Nonce,
                form.Who,
                User.Identity!.Name!,
                form.How.Trim(),
                new DateTimeOffset(form.Day!.Value, TimeOnly.MinValue, TimeSpan.Zero),
                form.Requests,
                null,
                await artefacts.KeepAsync(form.Evidence, cancel)
            ),
            cancel
        );
        switch (result)
        {
            case DecisionResult.Recorded recorded:
                return Redirect($"/records/{recorded.DecisionId}");
            case DecisionResult.AlreadyDecided decided:
                ModelState.AddModelError("", decided.Text);
                break;
            case DecisionResult.Stale stale:
                ModelState.AddModelError("", stale.Text);
                break;
            case DecisionResult.Incomplete incomplete:
                foreach (var refusal in incomplete.Refusals)
                    ModelState.AddModelError("", refusal.Text);
                break;
            default:
                return NotFound();
        }
        return Again(read, form);
    }

    private DateOnly Today => DateOnly.FromDateTime(time.GetUtcNow().UtcDateTime);

    private ElsewherePage Page(ReadVersion read, ElsewhereForm form) => new(read, form, Today);

    private ViewResult Again(ReadVersion read, ElsewhereForm form)
    {
        return this.Again("Elsewhere", Page(read, form));
    }
}

/// <summary>Files that show an answer: kept as they came, named by their digest.</summary>
public sealed class Artefacts(IFileStore files)
{
    public async Task<string?> KeepAsync(IFormFile? upload, CancellationToken cancel)
    {
        if (upload is not { Length: > 0 })
            return null;
        await using var bytes = upload.OpenReadStream();
        return (await files.PutAsync(bytes, cancel)).Sha256;
    }
}
