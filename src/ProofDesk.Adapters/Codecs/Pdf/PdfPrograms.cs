namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>
/// The programs that can draw a page, as they lie on this machine. Neither comes with us: Ghostscript keeps spot colours
/// apart, poppler only draws what is seen.
/// </summary>
/// <param name="Ghostscript">Path of gs, or null.</param>
/// <param name="Poppler">Path of pdftocairo, or null.</param>
public sealed record PdfPrograms(string? Ghostscript, string? Poppler)
{
    private static readonly Lazy<PdfPrograms> ThisMachine = new(() =>
        new(Find("gs") ?? Find("gswin64c.exe"), Find("pdftocairo") ?? Find("pdftocairo.exe"))
    );

    /// <summary>Looked for once a process.</summary>
    public static PdfPrograms OfThisMachine => ThisMachine.Value;

    public static PdfPrograms None { get; } = new(null, null);

    public bool CanDraw => Ghostscript is not null || Poppler is not null;

    /// <summary>One sentence for the health page.</summary>
    public string Description =>
        Ghostscript is not null ? $"pdf pages are drawn by Ghostscript ({Ghostscript}), spot colours kept apart"
        : Poppler is not null
            ? $"pdf pages are drawn by poppler ({Poppler}), spot colours not kept apart: install ghostscript for that"
        : "pdf art is refused: install ghostscript";

    internal static UnreadableArt Missing() =>
        new(
            "pdf-needs-program",
            "pdf art needs Ghostscript or poppler on this machine, and neither is installed",
            "install ghostscript (Debian: apt-get install ghostscript), or send the art as svg or png"
        );

    private static string? Find(string program) =>
        (Environment.GetEnvironmentVariable("PATH") ?? "")
            .Split(Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries)
            .Concat(OperatingSystem.IsWindows() ? [] : ["/usr/local/bin", "/usr/bin", "/bin"])
            .Select(folder => Path.Combine(folder, program))
            .FirstOrDefault(path => File.Exists(path) && Seen(path));

    /// <summary>Shut in, the worker sees the system's programs and no other folder.</summary>
    private static bool Seen(string path) =>
        !Sandbox.OfThisMachine.ShutIn
        || path.StartsWith("/usr/", StringComparison.Ordinal)
        || path.StartsWith("/bin/", StringComparison.Ordinal);
}
