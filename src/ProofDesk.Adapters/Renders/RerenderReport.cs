using System.Collections.Immutable;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Renders;

/// <summary>One bound file beside the one made again.</summary>
/// <param name="What">"front: plate 1 of 3 (Red)", "front: garment-tee-white.png".</param>
/// <param name="Difference">Where they differ, or null for the same bytes.</param>
public sealed record FileComparison(string Path, FileRole Role, string What, string? Difference)
{
    public bool IsSame => Difference is null;

    public override string ToString() => $"{What}: {Difference ?? "same bytes"}";
}

/// <summary>What came of making a version again from its own files.</summary>
/// <param name="Notes">What may be the reason of a difference, or was left aside.</param>
public sealed record RerenderReport(ImmutableArray<FileComparison> Files, ImmutableArray<string> Notes)
{
    public bool IsEqual => Files.All(f => f.IsSame);

    /// <summary>The last line, in plain words.</summary>
    public string Summary =>
        IsEqual
            ? $"equal: {Count(_ => true)} were made again, every byte is the same"
            : $"different: of {Count(_ => true)} made again, {Count(f => !f.IsSame)} are not the same";

    private string Count(Func<FileComparison, bool> which)
    {
        var counted = Files.Where(which).ToArray();
        var plates = counted.Count(f => f.Role == FileRole.Plate);
        var pictures = counted.Count(f => f.Role is FileRole.Picture or FileRole.GarmentPicture);
        return $"{plates} plates, {pictures} pictures and {counted.Length - plates - pictures} other files";
    }
}
