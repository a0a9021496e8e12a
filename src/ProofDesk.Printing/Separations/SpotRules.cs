using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Separations;

/// <summary>What spot separation may do for a method.</summary>
public sealed record SpotRules
{
    /// <summary>White may run under the colours.</summary>
    public bool HasBase { get; init; } = true;

    /// <summary>Fades may become halftones; otherwise every plate is solid and cut at one half.</summary>
    public bool HasTones { get; init; } = true;

    /// <summary>Mesh of solid colours; null = usual for the kind of ink.</summary>
    public Mesh? ColourMesh { get; init; }

    /// <summary>Mesh of a solid base; null = usual for the kind of ink.</summary>
    public Mesh? BaseMesh { get; init; }

    /// <summary>Ink of a discharge base; null = this method has none.</summary>
    public Ink? DischargeBase { get; init; }

    /// <summary>Ink of the base; null = the usual white of the kind.</summary>
    public Ink? BaseInk { get; init; }
}
