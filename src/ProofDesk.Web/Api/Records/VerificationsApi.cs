using System.Collections.Immutable;
using System.ComponentModel;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Packets;
using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Api.Records;

/// <summary>Whether a packet holds, step by step.</summary>
public sealed record VerdictAnswer(
    [property: Description(
        "valid; valid-not-anchored: whole in itself, but nothing from outside vouches for the log; not-valid; unreadable."
    )]
        VerdictKind Verdict,
    [property: Example(
        "\"valid: Kim Reed approved (Lindhag Screen Works, order 1007, version 1, 2026-11-20T10:15:00.000Z, evidence E0)\""
    )]
        string Summary,
    IReadOnlyList<StepAnswer> Steps,
    [property: Description("SHA-256 of what was decided on; null when it could not be read.")] string? ManifestSha256
);

public sealed record StepAnswer(
    [property: Description("Stable name of the step.")] string Code,
    [property: Description("not-proven: said for completeness, cannot be proven.")] StepOutcome Outcome,
    string Text
);

/// <summary>Checks packets, as the command line and verify.html do.</summary>
[Tags("Records")]
[Route(V1 + "/verifications")]
public sealed class VerificationsApi(LogKeeper log) : ApiBase
{
    [HttpPost("")]
    [Needs(Right.ReadRecords)]
    [TakesBytes("application/zip")]
    [EndpointSummary("Checks a packet")]
    [EndpointDescription(
        "The body is the packet. Nothing is kept. Without a key the packet is held against the keys of this server's log. Who does not trust this server checks with the command line or verify.html: they share no code with the storage."
    )]
    [ProducesResponseType<VerdictAnswer>(200, "application/json")]
    public async Task<IActionResult> Create(
        [FromQuery]
        [Description("A log key the packet must be signed with, as a receipt mail names it (NAME+ID+BASE64).")]
            string? key,
        CancellationToken cancel
    )
    {
        if (Request.ContentType is not ("application/zip" or "application/octet-stream"))
            return Problem(StatusCodes.Status415UnsupportedMediaType);
        VerifyOptions options;
        try
        {
            options = key is { Length: > 0 }
                ? new([VerifierKey.Parse(key)], [])
                : new([], TrustFile.Parse(log.TrustText, "this server's keys"));
        }
        catch (RecordFormatException wrong)
        {
            return Mend([
                new(
                    "no-log-key",
                    "/key",
                    Words.Sentence(wrong.Message),
                    key,
                    "NAME+ID+BASE64",
                    "Copy the key from a receipt."
                ),
            ]);
        }
        await using var packet = ScratchFile.Open();
        await Request.Body.CopyToAsync(packet, cancel);
        packet.Position = 0;
        var verdict = await Task.Run(() => PacketVerifier.Verify(packet, options), cancel);
        return Tagged(
            new VerdictAnswer(
                verdict.Kind,
                verdict.Summary,
                [.. verdict.Steps.Select(step => new StepAnswer(step.Code, step.Outcome, step.Text))],
                verdict.Statement?.Manifest.Hex
            )
        );
    }
}
