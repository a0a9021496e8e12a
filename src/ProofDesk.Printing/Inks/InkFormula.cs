using System.Collections.Immutable;
using System.Globalization;

namespace ProofDesk.Printing.Inks;

/// <summary>A paste, base or additive of a formula and how much of it a kilogram of the ink holds.</summary>
public sealed record FormulaPart(string Name, double GramsPerKg);

/// <summary>
/// The shop's own recipe of an ink, in the order it is weighed. It is kept and scaled to grams; the colour comes from the
/// measurement, never from the recipe.
/// </summary>
public sealed record InkFormula(ImmutableArray<FormulaPart> Parts)
{
    /// <summary>Parts may miss a kilogram by so much: what scales of a mixing room round away.</summary>
    public const double SumToleranceGrams = 1;

    public const int MostParts = 24;

    /// <summary>What each part weighs in so much ink.</summary>
    public ImmutableArray<(string Name, double Grams)> For(double grams) =>
        [.. Parts.Select(part => (part.Name, grams * part.GramsPerKg / 1000))];

    /// <summary>Everything that is wrong with these parts, empty when they are a formula.</summary>
    public static ImmutableArray<string> Problems(ImmutableArray<FormulaPart> parts)
    {
        var found = ImmutableArray.CreateBuilder<string>();
        if (parts.Length is 0 or > MostParts)
            found.Add($"{parts.Length} parts given, 1 to {MostParts} are possible");
        for (var i = 0; i < parts.Length; i++)
        {
            if (string.IsNullOrWhiteSpace(parts[i].Name))
                found.Add($"part {i + 1} has no name");
            if (parts[i].GramsPerKg is not (> 0 and <= 1000))
                found.Add(
                    $"part {i + 1}, {parts[i].Name}: {Number(parts[i].GramsPerKg)} g/kg, above 0 and at most 1000 is needed"
                );
        }
        foreach (
            var twice in parts.GroupBy(part => part.Name, StringComparer.OrdinalIgnoreCase).Where(g => g.Count() > 1)
        )
            found.Add($"{twice.Key} is there {twice.Count()} times; add its amounts up");
        var sum = parts.Sum(part => part.GramsPerKg);
        if (parts.Length > 0 && Math.Abs(sum - 1000) > SumToleranceGrams)
            found.Add(
                $"the parts add up to {Number(sum)} g/kg ({Number(sum / 10)} %), 1000 g/kg are needed; {(sum < 1000 ? "add" : "take away")} {Number(Math.Abs(1000 - sum))} g/kg, usually of the clear base"
            );
        return found.ToImmutable();
    }

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
