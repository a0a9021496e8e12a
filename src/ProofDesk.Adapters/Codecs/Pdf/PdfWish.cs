namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>What the parent tells the worker about a PDF, as JSON in the last argument.</summary>
/// <param name="Page">The page that is art, from 1.</param>
/// <param name="Ghostscript">Path of gs, or null.</param>
/// <param name="Poppler">Path of pdftocairo, or null.</param>
/// <param name="Scratch">A folder that is gone when the worker is.</param>
internal sealed record PdfWish(int Page, string? Ghostscript, string? Poppler, string Scratch);
