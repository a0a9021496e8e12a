using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.TestForms;

namespace ProofDesk.Web.Presses;

public sealed record PressesPage(IReadOnlyList<ShopPress> Own, IReadOnlyList<ShopPress> Retired)
{
    /// <summary>"32 um".</summary>
    public static string Number(double value, string unit) =>
        value.ToString("0.###", CultureInfo.InvariantCulture) + (unit.Length == 0 ? "" : $" {unit}");

    public static string Meshes(ShopPress press) => string.Join(", ", press.Definition.Meshes);

    public static string From(ShopPress press) =>
        string.Join(
            ", ",
            press.Definition.Sheets.Select(s => s.FileName).Concat(press.Definition.Scans.Select(s => s.FileName))
        );

    /// <summary>Findings in words, the odd readings first.</summary>
    public static IEnumerable<string> Odd(FittedPress press) =>
        press.Findings.OrderByDescending(f => f.Weight).Select(f => $"{f.Message}; {f.NextStep}");
}

/// <param name="History">Versions, the newest first; empty for a new press.</param>
/// <param name="Grounds">Cloth the form can be printed on.</param>
public sealed record PressPage(PressForm Form, IReadOnlyList<ShopPress> History, ImmutableArray<Ground> Grounds)
{
    public const string UsualMesh = "61-64";

    public ShopPress? Current => History.Count > 0 ? History[0] : null;

    /// <summary>A black tee is what a white is read on.</summary>
    public string UsualGround => (Grounds.FirstOrDefault(g => g.Id == "tee/black") ?? Grounds[0]).Id;

    public static IEnumerable<string> Meshes => ProofDesk.Printing.Inks.Meshes.Default.Select(m => m.Label);
}
