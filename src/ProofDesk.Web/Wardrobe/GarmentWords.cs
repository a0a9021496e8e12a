using System.Globalization;
using System.Text;
using ProofDesk.Adapters.Garments;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Garments.Photographs;
using ProofDesk.Web.Layout;

namespace ProofDesk.Web.Wardrobe;

/// <summary>Garments in the words of the desk.</summary>
internal static class GarmentWords
{
    public static string Fibres(GarmentColour colour) =>
        string.Join(
            ", ",
            colour.Fibres.Select(f =>
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{100 * f.Share:0.#} % {f.Fibre.ToString().ToLowerInvariant()}"
                )
            )
        );

    public static string Class(DataClass known) => known == DataClass.Photographed ? "photographed" : known.ToString();

    public static Lab LabOf(GarmentColour colour) =>
        CieLab.FromXyz(Tristimulus.Of(colour.Reflectance, ViewingLight.D50), ViewingLight.D50);

    public static string Lab(Lab lab) =>
        string.Create(CultureInfo.InvariantCulture, $"{lab.L:0.0} {lab.A:0.0} {lab.B:0.0}");

    public static string Lean(PhotoScale scale) =>
        Math.Abs(scale.LeanDegrees) < 0.05
            ? "not at all"
            : string.Create(
                CultureInfo.InvariantCulture,
                $"{Math.Abs(scale.LeanDegrees):0.0} degrees {(scale.LeanDegrees > 0 ? "clockwise" : "counter-clockwise")}; prints lean with it"
            );

    /// <summary>"colours[2].fibres: the shares .." is "Colour 3, fibres: the shares ..".</summary>
    public static string Sentence(GarmentFormatException problem)
    {
        var field = Counted(problem.Field);
        field = field
            .Replace("colours ", "colour ", StringComparison.Ordinal)
            .Replace("sizes ", "size ", StringComparison.Ordinal)
            .Replace("places ", "place ", StringComparison.Ordinal)
            .Replace("views ", "view ", StringComparison.Ordinal)
            .Replace("seams ", "seam ", StringComparison.Ordinal)
            .Replace("obstacles ", "obstacle ", StringComparison.Ordinal)
            .Replace(".", ", ", StringComparison.Ordinal);
        var text = $"{field}: {problem.Message[(problem.Field.Length + 2)..]}";
        return Words.Sentence(text);
    }

    /// <summary>"colours[2].lab" is "colours 3.lab": people count from one.</summary>
    private static string Counted(string path)
    {
        var counted = new StringBuilder();
        foreach (var part in path.Split('['))
        {
            var end = part.IndexOf(']', StringComparison.Ordinal);
            if (end > 0 && int.TryParse(part[..end], NumberStyles.None, CultureInfo.InvariantCulture, out var index))
                counted.Append(' ').Append(index + 1).Append(part.AsSpan(end + 1));
            else
                counted.Append(part);
        }
        return counted.ToString();
    }
}
