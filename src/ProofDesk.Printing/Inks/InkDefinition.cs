using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Inks;

/// <summary>A measurement file as it was given.</summary>
public sealed record MeasurementText(string FileName, string Text);

/// <summary>Lab of a solid, one pass on white cloth.</summary>
public sealed record SolidLab(Lab Lab, ViewingLight Light, string Mesh);

/// <summary>
/// What a shop writes down about an ink of its own, in a file or in the desk. <see cref="Make"/> turns it into an ink or says
/// everything that stands in the way.
/// </summary>
/// <param name="Id">Lower-case letters, digits and hyphens.</param>
public sealed partial record InkDefinition(string Id, string Name, InkKind Kind, InkRole Role)
{
    /// <summary>Begins the identifier of every shop's ink, so that no default ink is ever mistaken for one.</summary>
    public const string Prefix = "own-";

    private const int LongestName = 80;

    /// <summary>Kinds whose colour these measurements can tell.</summary>
    public static ImmutableArray<InkKind> Kinds { get; } =
    [InkKind.Plastisol, InkKind.WaterBased, InkKind.HighSolidsWaterBased];

    public MeasurementText? Measurement { get; init; }
    public SolidLab? Solid { get; init; }

    /// <summary>Share of the wet volume that stays; null for that of the kind.</summary>
    public double? VolumeSolids { get; init; }

    /// <summary>Null for that of the kind.</summary>
    public double? DensityGramsPerCm3 { get; init; }
    public InkFormula? Formula { get; init; }
    public InkTarget? Target { get; init; }

    /// <summary>Lines of the file the fields stand on, when it came from one.</summary>
    public ImmutableDictionary<string, int> Lines { get; init; } = ImmutableDictionary<string, int>.Empty;

    /// <param name="file">Named in problems.</param>
    public InkReading Make(string file)
    {
        var problems = Problems(file);
        if (problems.Count > 0)
            return InkReading.Failed([.. problems]);
        var usual = InkLibrary.OfKind(Kind).FirstOrDefault(ink => ink.Role == Role) ?? InkLibrary.OfKind(Kind).First();
        var plain = usual with
        {
            Id = Prefix + Id,
            Name = Name,
            Role = Role,
            VolumeSolids = VolumeSolids ?? usual.VolumeSolids,
            DensityGramsPerCm3 = DensityGramsPerCm3 ?? usual.DensityGramsPerCm3,
            Formula = Formula,
            Target = Target,
        };
        if (Solid is { } solid)
            return LabInk.Of(solid.Lab, solid.Light, Meshes.Parse(solid.Mesh)!, plain, file, LineOf("lab"));
        var warnings = new List<string>();
        var (measured, text) = Measurement!;
        return DrawdownText.Read(text, measured, problems, warnings) is { } drawdown
            ? MeasuredInk.Of(drawdown, plain, measured, [.. warnings])
            : new(null, [.. problems], [.. warnings]);
    }

    /// <summary>"water-based".</summary>
    public static string Word(InkKind kind) =>
        kind switch
        {
            InkKind.Plastisol => "plastisol",
            InkKind.WaterBased => "water-based",
            InkKind.HighSolidsWaterBased => "water-based-high-solids",
            _ => kind.ToString().ToLowerInvariant(),
        };

    private int LineOf(string field) => Lines.TryGetValue(field, out var line) ? line : Lines.GetValueOrDefault("id");

    private List<InkProblem> Problems(string file)
    {
        var found = new List<InkProblem>();
        void Wrong(string code, string field, string what) => found.Add(new(code, file, LineOf(field), field, what));

        if (!Identifier().IsMatch(Id))
            Wrong(
                "id",
                "id",
                $"\"{Id}\"; 1 to 60 lower-case letters, digits and hyphens are possible, such as harbour-red"
            );
        if (Name.Trim().Length is 0 or > LongestName)
            Wrong("name", "name", $"{Name.Trim().Length} characters, 1 to {LongestName} are possible");
        if (!Kinds.Contains(Kind))
            Wrong("kind", "kind", $"{Word(Kind)}; {string.Join(", ", Kinds.Select(Word))} can be measured this way");
        if (Measurement is null == Solid is null)
            Wrong(
                "source",
                Measurement is null ? "measurement" : "lab",
                Measurement is null
                    ? "neither a measurement nor a Lab is given; give the file measured over black and white, or the Lab of a solid on white cloth"
                    : "a measurement and a Lab are both given; keep the measurement, it says more"
            );
        if (Solid is { } solid)
        {
            if (InkTarget.LabProblem(solid.Lab) is { } what)
                Wrong("lab", "lab", what);
            if (Meshes.Parse(solid.Mesh) is null)
                Wrong("mesh", "mesh", $"\"{solid.Mesh}\"; threads per cm and thread in um, such as 61-64, is possible");
        }
        if (VolumeSolids is { } solids and not (>= 0.05 and <= 1))
            Wrong(
                "solids",
                "volumeSolids",
                $"{Number(solids)}, 0.05 to 1 is possible; it is the share of the wet volume that stays"
            );
        if (DensityGramsPerCm3 is { } density and not (>= 0.7 and <= 3))
            Wrong("density", "densityGramsPerCm3", $"{Number(density)} g/cm3, 0.7 to 3 is possible");
        if (Formula is { } formula)
            foreach (var what in InkFormula.Problems(formula.Parts))
                Wrong("formula", "formula", what);
        if (Target is { } target)
            foreach (var (field, what) in target.Problems())
                Wrong("target", $"target.{field}", what);
        return found;
    }

    private static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    [GeneratedRegex("^[a-z0-9][a-z0-9-]{0,59}$", RegexOptions.None, 1000)]
    private static partial Regex Identifier();
}
