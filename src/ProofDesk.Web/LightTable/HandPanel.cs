using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Web.LightTable;

/// <summary>The fields beside the films: what the order asks for next, beside what this version has.</summary>
/// <param name="Newest">The order's newest version, finished or not.</param>
/// <param name="OrderDiffers">The order asks for other hand work than the films on the table have.</param>
/// <param name="CameBack">The fields hold what was typed and not taken.</param>
public sealed record HandPanel(HandForm Form, ProofVersion Newest, bool OrderDiffers, bool CameBack)
{
    public int NextNumber => Newest.Number + 1;

    public static IEnumerable<string> Meshes => ProofDesk.Printing.Inks.Meshes.Default.Select(m => m.Label);
    public static IEnumerable<DotShape> Dots => Enum.GetValues<DotShape>();
    public static IEnumerable<WeakTones> Weak => Enum.GetValues<WeakTones>();

    public static string DotName(DotShape dot) => dot.ToString().ToLowerInvariant();

    public static string WeakName(WeakTones weak) => weak == WeakTones.Hold ? "held" : "cut";
}

/// <summary>One film's editor.</summary>
/// <param name="Index">Place of the film in the form, from 0.</param>
public sealed record FilmEditor(LightTablePage Page, LaidFilm Film, FilmForm Fields, int Index)
{
    public string Name(string field) => $"Films[{Index}].{field}";

    public string Id(string field) => $"Films_{Index}__{field}";

    /// <summary>Rectangles are for what lies under the colours.</summary>
    public bool IsBase => Film.Plate.Purpose.Contains("base", StringComparison.Ordinal);

    public bool IsWrong(ModelStateDictionary state) =>
        state.Any(e => e.Key.StartsWith($"Films[{Index}]", StringComparison.Ordinal) && e.Value!.Errors.Count > 0);

    public IEnumerable<string> Wrong(ModelStateDictionary state, string field) =>
        state.TryGetValue(Name(field), out var entry) ? entry.Errors.Select(e => e.ErrorMessage) : [];

    /// <summary>A film is made of it: what is cut, jetted or dyed has none.</summary>
    public bool HasFilm => Film.Plate.Mesh != "none";

    /// <summary>"made 77-55", "made 77-55, now 90-40".</summary>
    public static string Made(string? made, string now) =>
        made is null ? $"now {now}"
        : made == now ? $"made {made}"
        : $"made {made}, now {now}";

    /// <summary>What a tone on this film prints as, %; null in versions that do not say. Straight lines between the steps.</summary>
    public double? PrintsAs(double percent)
    {
        var steps = Film.Plate.PrintsAs;
        if (steps.IsDefaultOrEmpty)
            return null;
        var at = Math.Clamp(percent, 0, 100) / 100 * (steps.Length - 1);
        var below = Math.Min((int)at, steps.Length - 2);
        return steps[below] + (at - below) * (steps[below + 1] - steps[below]);
    }

    /// <summary>The wedge as it stands in the fields, % at each step; a step that is no number stands as made.</summary>
    public double[] Steps =>
        [
            .. Fields.Wedge.Select(
                (typed, i) =>
                    double.TryParse(
                        typed?.Replace(',', '.'),
                        System.Globalization.NumberStyles.Float,
                        System.Globalization.CultureInfo.InvariantCulture,
                        out var percent
                    )
                        ? Math.Clamp(percent, 0, 100)
                        : 10 * i
            ),
        ];
}
