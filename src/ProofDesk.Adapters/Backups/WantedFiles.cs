using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Backups;

/// <param name="Bytes">length that was sealed, or null where only the digest is known</param>
internal sealed record WantedFile(long? Bytes, string? Sha512, string What);

/// <summary>Every stored file that something names, and what names it.</summary>
internal sealed partial class WantedFiles
{
    private readonly Dictionary<string, WantedFile> _files = new(StringComparer.Ordinal);

    public IReadOnlyDictionary<string, WantedFile> All => _files;

    public void Add(string sha256, long? bytes, string? sha512, string what)
    {
        if (!_files.TryGetValue(sha256, out var known) || known.Bytes is null)
        {
            _files[sha256] = new WantedFile(bytes, sha512, what);
        }
    }

    /// <summary>Facts of events name files as "photo", "original" or "...-file"; other digests among them are of manifests and statements.</summary>
    public void AddFact(string name, string value, string what)
    {
        var hex = value.StartsWith("sha256:", StringComparison.Ordinal) ? value["sha256:".Length..] : value;
        if (IsFile(name) && Hex().IsMatch(hex) && hex.Length == 64)
        {
            Add(hex, null, null, $"{name} of {what}");
        }
    }

    /// <summary>What orders and the shop's own definitions name.</summary>
    public async Task ReadAsync(OfficeDb db, CancellationToken cancel)
    {
        foreach (
            var print in await db
                .OrderPrints.Select(row => new
                {
                    row.ArtSha256,
                    row.ArtFileName,
                    row.OrderId,
                })
                .ToListAsync(cancel)
        )
        {
            Add(print.ArtSha256, null, null, $"art {print.ArtFileName} of order {print.OrderId}");
        }
        foreach (
            var sheet in await db
                .CompareSheets.Select(row => new
                {
                    row.Id,
                    row.ArtSha256,
                    row.ArtFileName,
                })
                .ToListAsync(cancel)
        )
        {
            Add(sheet.ArtSha256, null, null, $"art {sheet.ArtFileName} of compare sheet {sheet.Id}");
        }
        foreach (
            var cell in await db
                .SheetCells.Where(row => row.State == CellState.Done)
                .Select(row => new
                {
                    row.Id,
                    row.PrintSha256,
                    row.GarmentSha256,
                })
                .ToListAsync(cancel)
        )
        {
            Add(cell.PrintSha256!, null, null, $"picture of cell {cell.Id}");
            Add(cell.GarmentSha256!, null, null, $"worn picture of cell {cell.Id}");
        }
        foreach (
            var definition in await db
                .ShopDefinitions.Select(row => new
                {
                    row.Kind,
                    row.Key,
                    row.Json,
                })
                .ToListAsync(cancel)
        )
        {
            foreach (Match named in NamedFile().Matches(definition.Json))
            {
                Add(named.Groups["hex"].Value, null, null, $"a file of {definition.Kind} {definition.Key}");
            }
        }
    }

    private static bool IsFile(string name) =>
        name is "file" or "photo" or "original"
        || name.EndsWith("-file", StringComparison.Ordinal)
        || name.EndsWith("-photo", StringComparison.Ordinal);

    [GeneratedRegex("^[0-9a-f]{64}$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Hex();

    [GeneratedRegex(
        "\"sha256\"\\s*:\\s*\"(?<hex>[0-9a-f]{64})\"",
        RegexOptions.ExplicitCapture | RegexOptions.IgnoreCase,
        1000
    )]
    private static partial Regex NamedFile();
}
