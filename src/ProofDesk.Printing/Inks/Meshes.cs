using System.Collections.Immutable;
using System.Globalization;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// Plain-weave polyester meshes a shop usually has, threads per cm and thread in um, fabric thickness 1.5 d ([PHYSICS] 1.5, from
/// weavers' tables; a shop replaces them by its data sheets), and which one is usual for what (common practice).
/// </summary>
public static class Meshes
{
    public static ImmutableArray<Mesh> Default { get; } =
    [
        new(24, 140),
        new(32, 100),
        new(43, 80),
        new(48, 70),
        new(61, 64),
        new(77, 55),
        new(90, 48),
        new(90, 40),
        new(120, 34),
        new(140, 31),
    ];

    /// <summary>The mesh with this label, e.g. "61-64", or null.</summary>
    public static Mesh? Find(string label) => Default.FirstOrDefault(mesh => mesh.Label == label);

    /// <summary>A mesh written as threads per cm and thread in um, known or not: "54-64"; null when it cannot be one.</summary>
    public static Mesh? Parse(string label) =>
        Find(label)
        ?? (
            label.Split('-') is [var count, var thread]
            && double.TryParse(count, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var perCm)
            && double.TryParse(thread, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var um)
            && perCm is >= 10 and <= 200
            && um is >= 20 and <= 400
            && 10_000 / perCm > um
                ? new Mesh(perCm, um)
                : null
        );

    /// <summary>White base of solid areas.</summary>
    public static Mesh SolidBase(InkKind kind) => Find(kind == InkKind.Plastisol ? "61-64" : "48-70")!;

    /// <summary>White base with halftones.</summary>
    public static Mesh HalftoneBase { get; } = Find("77-55")!;

    /// <summary>Discharge: enough liquid to reach the dye, still fine enough for lettering (43 to 61 per cm in practice).</summary>
    public static Mesh Discharge { get; } = Find("61-64")!;

    /// <summary>Spot colours.</summary>
    public static Mesh Spot(InkKind kind) => Find(kind == InkKind.Plastisol ? "61-64" : "77-55")!;

    /// <summary>Colours with halftones.</summary>
    public static Mesh HalftoneColour { get; } = Find("90-40")!;

    /// <summary>Four-colour and fine halftones.</summary>
    public static Mesh FineHalftone { get; } = Find("120-34")!;
}
