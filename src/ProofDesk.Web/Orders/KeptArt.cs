using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Adapters.Files;
using ProofDesk.Web.Security;

namespace ProofDesk.Web.Orders;

/// <summary>A form that brings art: as a file, or as what an answer to an earlier try kept of it.</summary>
public interface IBringsArt
{
    IFormFile? Art { get; }

    /// <summary>Digest and name of stored art, sealed; empty where there is none.</summary>
    string? KeptArt { get; set; }
}

/// <param name="Sha256">of the stored bytes</param>
public sealed record ArtFile(string Sha256, string FileName);

/// <summary>
/// Stores the art of a form before anything reads it. A browser sends a file once: where the rest of the form has to be mended
/// the art stays here, and its digest and name come back with the form, sealed for a day.
/// </summary>
public sealed class KeptArt(IFileStore files, IDataProtectionProvider protection)
{
    private static readonly TimeSpan Lasts = TimeSpan.FromDays(1);

    private readonly ITimeLimitedDataProtector seal = protection
        .CreateProtector("kept-art/1")
        .ToTimeLimitedDataProtector();

    /// <returns>null where there is none; the form then says so.</returns>
    public async Task<ArtFile?> TakeAsync(IBringsArt form, ModelStateDictionary state, CancellationToken cancel)
    {
        if (form.Art is { Length: > 0 } upload)
        {
            await using var bytes = upload.OpenReadStream();
            var blob = await files.PutAsync(bytes, cancel);
            var art = new ArtFile(blob.Sha256, PlainText.FileName(upload.FileName));
            form.KeptArt = seal.Protect($"{art.Sha256} {art.FileName}", Lasts);
            return art;
        }
        if (form.Art is null && Of(form.KeptArt) is { } kept)
            return kept;
        form.KeptArt = null;
        state.AddModelError(
            nameof(form.Art),
            form.Art is null
                ? "Choose the art: PNG, JPEG, TIFF, WebP, SVG, PDF or a ZIP of layers."
                : "The file is empty."
        );
        return null;
    }

    /// <summary>What a form's field says is kept; null when it is none of ours or too old.</summary>
    public ArtFile? Of(string? kept)
    {
        if (string.IsNullOrEmpty(kept))
            return null;
        try
        {
            var said = seal.Unprotect(kept).Split(' ', 2);
            return new(said[0], said[1]);
        }
        catch (Exception e) when (e is CryptographicException or FormatException)
        {
            return null;
        }
    }
}
