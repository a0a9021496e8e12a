namespace ProofDesk.Printing.Garments;

/// <summary>What makes a part of a garment a bad place for a print.</summary>
public enum ObstacleKind
{
    /// <summary>A second layer of cloth with raised edges.</summary>
    Pocket,

    /// <summary>Teeth and tape: no ink holds, and the screen is damaged.</summary>
    Zip,

    /// <summary>A seam: a step of several layers of cloth.</summary>
    Seam,

    /// <summary>A hem or a ribbed band.</summary>
    Hem,

    /// <summary>The collar and what is above it.</summary>
    Collar,

    /// <summary>Handles and the patches that hold them.</summary>
    Strap,

    /// <summary>A hood.</summary>
    Hood,
}

/// <summary>A named region of one side that a print should keep off.</summary>
public sealed record GarmentObstacle(string Name, ObstacleKind Kind, GradedPath Outline)
{
    /// <summary>The screen must lie flat this far around it, mm; 0 for what a print may come close to.</summary>
    public double ClearanceMm =>
        Kind is ObstacleKind.Pocket or ObstacleKind.Zip or ObstacleKind.Seam ? UsualClearanceMm : 0;

    /// <summary>Closer to a seam, pocket or zip than this is a finding (common practice).</summary>
    public const double UsualClearanceMm = 30;
}
