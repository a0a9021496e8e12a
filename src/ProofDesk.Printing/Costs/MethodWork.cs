namespace ProofDesk.Printing.Costs;

/// <summary>What a method asks of a shop beyond screens, which are counted from the plates.</summary>
public sealed record MethodWork
{
    /// <summary>Screens alone: print, flash, dryer.</summary>
    public static MethodWork Screens { get; } = new();

    /// <summary>Jetted onto the garment, one after the other.</summary>
    public bool JetsGarments { get; init; }

    /// <summary>Jetted onto paper or cloth of the roll, which is paid by area.</summary>
    public bool JetsRolls { get; init; }

    /// <summary>How often the heat press closes on each garment.</summary>
    public int HeatPresses { get; init; }

    /// <summary>Sheets are cut and weeded by hand for each garment.</summary>
    public bool CutsSheets { get; init; }

    /// <summary>A sheet of foil is laid on each garment.</summary>
    public bool LaysFoil { get; init; }

    /// <summary>Panels are cut and sewn after printing.</summary>
    public bool Sews { get; init; }
}
