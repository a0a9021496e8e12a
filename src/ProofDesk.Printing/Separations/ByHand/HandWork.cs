using System.Collections.Immutable;
using System.Text.Json.Serialization;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>
/// What somebody changed on the films by hand, on the light table, after the separation was made: part of the request,
/// so that the proof shows it and the recipe names it.
/// </summary>
/// <param name="Plates">At most one for each plate; plates that are not named stay as they were made.</param>
[JsonConverter(typeof(HandWorkConverter))]
public sealed record HandWork(ImmutableArray<PlateEdit> Plates)
{
    public static HandWork None { get; } = new([]);

    /// <summary>Nothing in it changes a film.</summary>
    [JsonIgnore]
    public bool IsNone => Plates.All(plate => plate.IsUnchanged);

    /// <summary>The change of this plate, or null.</summary>
    public PlateEdit? For(string plate) =>
        Plates.FirstOrDefault(p => string.Equals(p.Plate, plate, StringComparison.OrdinalIgnoreCase));

    /// <summary>Two are equal that write the same text.</summary>
    public bool Equals(HandWork? other) => other is not null && HandWorkJson.Write(this) == HandWorkJson.Write(other);

    public override int GetHashCode() => HandWorkJson.Write(this).GetHashCode(StringComparison.Ordinal);
}

/// <summary>
/// The changes of one film. Everything left out stays as it was made.
/// </summary>
/// <param name="Plate">Name of the plate.</param>
public sealed record PlateEdit(string Plate)
{
    /// <summary>Steps of the wedge: 0, 10 ... 100 %.</summary>
    public const int WedgeSteps = 11;

    /// <summary>What is written on film where the made film has 0, 10 ... 100 %; 0..1 each, straight lines between; empty = as made.</summary>
    public ImmutableArray<double> Wedge { get; init; } = [];

    /// <summary>How far every edge moves outwards; negative draws it in (choke).</summary>
    public double SpreadUm { get; init; }

    public double? AngleDegrees { get; init; }

    /// <summary>Ruling; of a stochastic screen, dots per inch.</summary>
    public double? LinesPerInch { get; init; }

    public DotShape? Dot { get; init; }

    /// <summary>Threads per cm and thread in um, e.g. "90-48".</summary>
    public string? Mesh { get; init; }

    public WeakTones? WeakTones { get; init; }

    /// <summary>Strokes of every pass of this screen.</summary>
    public int? Strokes { get; init; }

    /// <summary>Whether the print is flashed after the last pass of this screen.</summary>
    public bool? FlashAfter { get; init; }

    /// <summary>Rectangles that a base stays out of.</summary>
    public ImmutableArray<KeepOut> KeepOut { get; init; } = [];

    /// <summary>The wedge when it changes anything, else empty.</summary>
    internal ImmutableArray<double> ChangedWedge =>
        Wedge.IsDefaultOrEmpty || Wedge.Select((w, i) => Math.Abs(w - i / 10.0)).Max() < 1e-6 ? [] : Wedge;

    /// <summary>Nothing is asked that the made film does not have anyway.</summary>
    public bool IsUnchanged =>
        ChangedWedge.IsEmpty
        && SpreadUm == 0
        && AngleDegrees is null
        && LinesPerInch is null
        && Dot is null
        && Mesh is null
        && WeakTones is null
        && Strokes is null
        && FlashAfter is null
        && KeepOut.IsDefaultOrEmpty;

    /// <summary>Two are equal that ask for the same.</summary>
    public bool Equals(PlateEdit? other) => other is not null && new HandWork([this]).Equals(new([other]));

    public override int GetHashCode() => new HandWork([this]).GetHashCode();
}

/// <summary>A rectangle from the top left corner of the inked extent.</summary>
public sealed record KeepOut(double XMm, double YMm, double WidthMm, double HeightMm);
