using System.Reflection;

namespace Architecture.Tests;

/// <summary>The assemblies and source files that the rules are held against.</summary>
internal static class House
{
    public static readonly Assembly Imaging = typeof(ProofDesk.Imaging.Colour.Spectrum).Assembly;
    public static readonly Assembly Printing = typeof(ProofDesk.Printing.Inks.Ink).Assembly;
    public static readonly Assembly Approvals = Assembly.Load("ProofDesk.Approvals");
    public static readonly Assembly Adapters = Assembly.Load("ProofDesk.Adapters");
    public static readonly Assembly Web = Assembly.Load("ProofDesk.Web");
    public static readonly Assembly Cli = Assembly.Load("proofdesk");
    public static readonly Assembly[] Pure = [Imaging, Printing, Approvals];
    public static readonly Assembly[] All = [Imaging, Printing, Approvals, Adapters, Web, Cli];

    public static string Root { get; } = FindRoot();

    /// <summary>Our own source files below a folder of the repository: path relative to the root, and text.</summary>
    public static IEnumerable<(string Path, string Text)> Sources(string folder, params string[] endings)
    {
        var separator = Path.DirectorySeparatorChar;
        return Directory
            .EnumerateFiles(Path.Combine(Root, folder), "*", SearchOption.AllDirectories)
            .Where(f => endings.Contains(Path.GetExtension(f)))
            .Select(f => Path.GetRelativePath(Root, f))
            .Where(f =>
                !f.Split(separator).Any(part => part is "bin" or "obj" or "node_modules" or "lib" or "Migrations")
            )
            .Order(StringComparer.Ordinal)
            .Select(f => (f.Replace(separator, '/'), File.ReadAllText(Path.Combine(Root, f))));
    }

    private static string FindRoot()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ProofDesk.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("ProofDesk.sln not found");
        return folder;
    }
}
