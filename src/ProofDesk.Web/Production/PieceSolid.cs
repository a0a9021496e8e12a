using System.Globalization;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Web.Production;

/// <summary>A solid of the version that can be measured on the first good piece, with the colour the manifest binds for it.</summary>
public sealed record PieceSolid(string Id, string Name, Lab Expected)
{
    /// <summary>From the bound manifest, so that the comparison is with what was signed.</summary>
    public static IReadOnlyList<PieceSolid> Of(byte[] manifest)
    {
        var bound = ManifestJson.Parse(manifest);
        return
        [
            .. bound.Plates.SelectMany(plate =>
                plate.OnGrounds.Select(on => new PieceSolid(
                    $"{plate.Print}|{plate.Screen}|{on.Ground}",
                    $"{plate.Print}, screen {plate.Screen}: {on.Ink} on {on.Ground}",
                    new Lab(on.Lab.L / 100.0, on.Lab.A / 100.0, on.Lab.B / 100.0)
                ))
            ),
        ];
    }

    public static string Say(Lab lab) =>
        string.Create(CultureInfo.InvariantCulture, $"L* {lab.L:0.0}, a* {lab.A:0.0}, b* {lab.B:0.0}");
}
