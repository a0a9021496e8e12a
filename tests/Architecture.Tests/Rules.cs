using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using Mono.Cecil;

namespace Architecture.Tests;

/// <summary>
/// The rules of the house as functions that list what breaks them. Each is held twice: against the house, where it must
/// find nothing, and against a twin that breaks it on purpose, where it must find just that.
/// </summary>
internal static partial class Rules
{
    private static readonly string[] VagueNames =
    [
        "Core",
        "Common",
        "Shared",
        "Manager",
        "Helper",
        "Helpers",
        "Util",
        "Utils",
        "Utilities",
    ];

    private static readonly string[] ImpureTypes =
    [
        "System.IO.File",
        "System.IO.Directory",
        "System.IO.FileStream",
        "System.IO.FileInfo",
        "System.IO.DirectoryInfo",
        "System.Environment",
        "System.Console",
        "System.Diagnostics.Process",
        "System.Diagnostics.Stopwatch",
        "System.Random",
        "System.TimeProvider",
        "System.Security.Cryptography.RandomNumberGenerator",
    ];

    private static readonly string[] ImpureNamespaces =
    [
        "System.Net.Http",
        "System.Net.Sockets",
        "System.Data",
        "Microsoft.Extensions.Logging",
        "Microsoft.EntityFrameworkCore",
        "Microsoft.AspNetCore",
        "MailKit",
        "NetVips",
    ];

    private static readonly string[] ImpureMembers =
    [
        "System.DateTime::get_Now",
        "System.DateTime::get_UtcNow",
        "System.DateTime::get_Today",
        "System.DateTimeOffset::get_Now",
        "System.DateTimeOffset::get_UtcNow",
        "System.Guid::NewGuid",
        "System.Guid::CreateVersion7",
    ];

    /// <summary>References to other ProofDesk assemblies that are not in the allowed list.</summary>
    public static IEnumerable<string> ForbiddenReferences(
        string assembly,
        IEnumerable<string> references,
        params string[] allowed
    ) =>
        references
            .Where(r => r.StartsWith("ProofDesk.", StringComparison.Ordinal) || r == "proofdesk")
            .Except(allowed)
            .Select(r => $"{assembly} references {r}");

    /// <summary>Calls out of a pure assembly to files, clock, network, database, log or environment.</summary>
    public static IEnumerable<string> ImpureCalls(string assemblyFile, Func<TypeDefinition, bool> include)
    {
        using var module = ModuleDefinition.ReadModule(assemblyFile);
        foreach (var type in module.GetTypes().Where(include))
        {
            foreach (var method in type.Methods.Where(m => m.HasBody))
            {
                foreach (var reference in method.Body.Instructions.Select(i => i.Operand).OfType<MemberReference>())
                {
                    var owner = (reference as TypeReference ?? reference.DeclaringType)?.FullName ?? "";
                    // Every iterator of the compiler asks for its thread; that is not the environment we mean.
                    if (
                        reference.FullName.Contains("Environment::get_CurrentManagedThreadId", StringComparison.Ordinal)
                    )
                        continue;
                    if (
                        ImpureTypes.Contains(owner)
                        || ImpureNamespaces.Any(n => owner.StartsWith(n + ".", StringComparison.Ordinal))
                        || ImpureMembers.Contains($"{owner}::{reference.Name}")
                    )
                        yield return $"{type.FullName}.{method.Name} uses {owner}.{reference.Name}";
                }
            }
        }
    }

    /// <summary>Types or namespaces with a name that says nothing.</summary>
    public static IEnumerable<string> VagueTypeNames(IEnumerable<Type> types) =>
        types
            .Where(t => !t.IsDefined(typeof(CompilerGeneratedAttribute), false))
            .Where(t => t.Namespace?.StartsWith("System.", StringComparison.Ordinal) != true) // code of source generators
            // The framework's own word for a class that renders a tag.
            .Where(t => t.BaseType?.FullName != "Microsoft.AspNetCore.Razor.TagHelpers.TagHelper")
            .Where(t => Words(t.Name).Concat((t.Namespace ?? "").Split('.')).Any(VagueNames.Contains))
            .Select(t => t.FullName!);

    /// <summary>Static fields that can change after start-up.</summary>
    public static IEnumerable<string> StaticState(IEnumerable<Type> types) =>
        types
            .Where(t =>
                !t.IsDefined(typeof(CompilerGeneratedAttribute), true)
                && !t.Name.Contains('<', StringComparison.Ordinal)
            )
            .SelectMany(t =>
                t.GetFields(
                    BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly
                )
            )
            .Where(f =>
                f is { IsInitOnly: false, IsLiteral: false } && !f.IsDefined(typeof(CompilerGeneratedAttribute))
            )
            .Where(f => !f.Name.Contains('<', StringComparison.Ordinal))
            .Where(f => !f.IsDefined(typeof(ThreadStaticAttribute)))
            .Select(f => $"{f.DeclaringType!.FullName}.{f.Name}");

    /// <summary>Pointers and vector instructions outside Imaging's rasters; the directory fsync of Adapters is the one other place.</summary>
    public static IEnumerable<string> UnsafeOutsideRasters(IEnumerable<(string Path, string Text)> sources) =>
        sources
            .Where(s => !s.Path.StartsWith("src/ProofDesk.Imaging/Rasters/", StringComparison.Ordinal))
            .Where(s => UnsafeCode().IsMatch(s.Text))
            .Select(s => s.Path);

    /// <summary>Files so long that they hold more than one idea.</summary>
    public static IEnumerable<string> TooLong(IEnumerable<(string Path, string Text)> sources, int lines) =>
        sources
            .Select(s => (s.Path, Count: s.Text.Count(c => c == '\n')))
            .Where(s => s.Count > lines)
            .Select(s => $"{s.Path} has {s.Count} lines, {lines} is the limit");

    /// <summary>Work left lying in a comment instead of in an issue.</summary>
    public static IEnumerable<string> LeftOverWork(IEnumerable<(string Path, string Text)> sources) =>
        sources.Where(s => LeftOver().IsMatch(s.Text)).Select(s => s.Path);

    /// <summary>Inline scripts, styles or handlers in a view: the content security policy would block them.</summary>
    public static IEnumerable<string> InlineInViews(IEnumerable<(string Path, string Text)> views) =>
        views.Where(v => Inline().IsMatch(v.Text)).Select(v => v.Path);

    private static IEnumerable<string> Words(string pascal) => PascalWord().Matches(pascal).Select(m => m.Value);

    [GeneratedRegex("[A-Z][a-z0-9]*")]
    private static partial Regex PascalWord();

    [GeneratedRegex(@"\bunsafe\s*(\{|static|void|struct|class|ref)|System\.Runtime\.Intrinsics|\bfixed\s*\(")]
    private static partial Regex UnsafeCode();

    [GeneratedRegex(@"//.*\b(TODO|FIXME|HACK|XXX)\b|NotImplementedException")]
    private static partial Regex LeftOver();

    [GeneratedRegex(@"<script(?![^>]*\bsrc=)[^>]*>|\sstyle=""|\son[a-z]+=""|javascript:", RegexOptions.IgnoreCase)]
    private static partial Regex Inline();
}
