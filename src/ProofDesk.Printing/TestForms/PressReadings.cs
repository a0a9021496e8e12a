using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.TestForms;

/// <summary>How a number was come by: it decides the data class of what is fitted from it.</summary>
public enum ReadBy
{
    /// <summary>A person with a loupe and a lamp: class B.</summary>
    Eye,

    /// <summary>An instrument: class A.</summary>
    Instrument,

    /// <summary>A scan: class A for places and widths, B for lightness and colour, because a scanner is no instrument.</summary>
    Scan,
}

/// <summary>What one block says. Null = not read.</summary>
/// <param name="Ink">Identifier of the ink.</param>
/// <param name="FirstStepHeldPercent">The palest step in which at least half of the dots are there.</param>
/// <param name="LastStepOpenPercent">The darkest step in which holes can still be seen.</param>
/// <param name="ThinnestLineUm">The thinnest line that is there over more than half of its length.</param>
/// <param name="ThinnestGapUm">The thinnest gap that is open over more than half of its length.</param>
/// <param name="GrowthUm">Where the taper is half open, on its scale; or the growth measured on the rings of a scan.</param>
public sealed record BlockReading(
    string Ink,
    FormUnder Under,
    double? FirstStepHeldPercent,
    double? LastStepOpenPercent,
    double? ThinnestLineUm,
    double? ThinnestGapUm,
    double? GrowthUm,
    ReadBy By
)
{
    /// <summary>Every field stayed empty.</summary>
    internal bool IsBlank =>
        (FirstStepHeldPercent ?? LastStepOpenPercent ?? ThinnestLineUm ?? ThinnestGapUm ?? GrowthUm) is null;
}

/// <summary>
/// A vernier pair at one corner of one sheet: how far the ink lies to the right of and below the reference.
/// </summary>
/// <param name="Sheet">Number of the print.</param>
/// <param name="Run">Set-ups of the press are counted from 1: screens taken out and put back are another one.</param>
/// <param name="Pallet">Which pallet carried the shirt; 0 = not noted.</param>
public sealed record RegisterReading(
    int Sheet,
    int Run,
    int Pallet,
    string Ink,
    FormCorner Corner,
    double XMm,
    double YMm,
    ReadBy By
);

/// <summary>Lightness of the white solid, L* under D50.</summary>
public sealed record WhiteReading(WhitePass Pass, double Lightness, ReadBy By);

/// <summary>Colour of a solid, Lab D50.</summary>
public sealed record SolidReading(string Ink, FormUnder Under, Lab Lab, ReadBy By);

/// <summary>Wet ink of one stroke, weighed: the pallet's load before and after over the printed area.</summary>
public sealed record WeighedDeposit(string Ink, double GramsPerM2);

/// <summary>All that was read from the sheets of one form: one mesh, one cloth.</summary>
public sealed record PressReadings(TestFormSettings Form, Ground Ground)
{
    public ImmutableArray<BlockReading> Blocks { get; init; } = [];
    public ImmutableArray<RegisterReading> Register { get; init; } = [];
    public ImmutableArray<WhiteReading> Whites { get; init; } = [];
    public ImmutableArray<SolidReading> Solids { get; init; } = [];
    public ImmutableArray<WeighedDeposit> Weighed { get; init; } = [];

    /// <summary>The sheet came back as it was handed out.</summary>
    internal bool IsBlank =>
        Blocks.All(b => b.IsBlank) && Register.IsEmpty && Whites.IsEmpty && Solids.IsEmpty && Weighed.IsEmpty;

    /// <summary>These and another's, of the same form: a typed sheet and its scans.</summary>
    public PressReadings With(PressReadings more) =>
        this with
        {
            Blocks = [.. Blocks, .. more.Blocks],
            Register = [.. Register, .. more.Register],
            Whites = [.. Whites, .. more.Whites],
            Solids = [.. Solids, .. more.Solids],
            Weighed = [.. Weighed, .. more.Weighed],
        };
}
