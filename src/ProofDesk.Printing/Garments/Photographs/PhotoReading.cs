using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Garments.Photographs;

/// <summary>Everything that is taken from a photograph by its marks. The same photograph and marks give the same reading.</summary>
/// <param name="Cloth">255 where the garment is.</param>
/// <param name="Findings">What is to be known; with a refusal the photograph cannot be a garment.</param>
public sealed record PhotoReading(
    PhotoScale Scale,
    BytePlane Cloth,
    PhotoLight Light,
    PhotoFolds Folds,
    ImmutableArray<Finding> Findings
)
{
    public bool IsRefused => Findings.Any(f => f.Weight == FindingWeight.Refusal);

    /// <summary>Null where the marks themselves cannot be measured by; the findings then say why.</summary>
    public static (PhotoReading? Reading, ImmutableArray<Finding> Findings) Of(RgbPicture photo, PhotoMarks marks)
    {
        var drawn = PhotoChecks.OfMarks(marks, photo.Width, photo.Height);
        if (drawn.Any(f => f.Weight == FindingWeight.Refusal))
            return (null, drawn);
        var reading = Read(photo, marks);
        var whole = reading with { Findings = [.. drawn, .. PhotoChecks.OfCloth(photo, marks, reading)] };
        return (whole, whole.Findings);
    }

    /// <summary>Without looking for what is wrong with it: of a garment that was accepted.</summary>
    public static PhotoReading Read(RgbPicture photo, PhotoMarks marks)
    {
        var scale = PhotoScale.Of(marks);
        var cloth = PhotoMask.Area(photo.Width, photo.Height, marks);
        var light = PhotoLight.Of(photo, cloth, scale.PixelsPerMm);
        if (marks.Tolerance is { } tolerance)
        {
            cloth = PhotoMask.OfColour(photo, cloth, light.Ground, tolerance, scale.PixelsPerMm);
            light = PhotoLight.Of(photo, cloth, scale.PixelsPerMm);
        }
        return new(scale, cloth, light, PhotoFolds.Of(light), []);
    }
}
