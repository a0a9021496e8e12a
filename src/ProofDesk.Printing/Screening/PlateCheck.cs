using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Screening;

/// <summary>What was measured of one plate for film and screen; null where it does not apply (no tones, no mesh).</summary>
public sealed record PlateCheck
{
    /// <summary>Mesh threads to a line of dots.</summary>
    public double? ThreadsPerLine { get; init; }

    /// <summary>Longest beat of dots and threads.</summary>
    public double? BeatMm { get; init; }

    /// <summary>Tones a cell can show on this device.</summary>
    public int? GreyLevels { get; init; }

    /// <summary>Dots smaller than this, across, are not sure to print: 2 d + w, or what the device can draw.</summary>
    public double? SafeDotUm { get; init; }

    /// <summary>Share of the plate's inked area whose dots are smaller.</summary>
    public double? SmallDotPercent { get; init; }

    /// <summary>What happens with tones the mesh cannot hold.</summary>
    public WeakTones? WeakTones { get; init; }

    /// <summary>Strips of a base below what the mesh holds.</summary>
    public double? ThinBaseMm { get; init; }

    /// <summary>Area of those strips.</summary>
    public double? ThinBaseCm2 { get; init; }
}

/// <summary>All plates, in print order, and what is to be said about them.</summary>
public sealed record FilmReport(
    System.Collections.Immutable.ImmutableArray<PlateCheck> Plates,
    System.Collections.Immutable.ImmutableArray<Artworks.Finding> Findings
);
