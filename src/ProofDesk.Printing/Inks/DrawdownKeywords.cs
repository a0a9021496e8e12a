using System.Globalization;
using System.Text.RegularExpressions;
using ProofDesk.Imaging.Measurements;

namespace ProofDesk.Printing.Inks;

/// <summary>What stands above the rows of a drawdown's file: how thick the film is and how it was measured.</summary>
internal sealed partial class DrawdownKeywords(
    CgatsTable table,
    string file,
    List<InkProblem> problems,
    List<string> warnings
)
{
    public const string ThicknessKeyword = "FILM_THICKNESS_UM";
    public const string MeshKeyword = "FILM_MESH";
    private const string GeometryKeyword = "MEASUREMENT_GEOMETRY";
    private const double MostFilmUm = 1000;

    public (double? FilmUm, Mesh? Mesh, double Ki) Read() => (Thickness(), MeshOf(), Ki());

    /// <summary>A name as people vary it, made one: "Over_Black" is "over black".</summary>
    public static string Plain(string name) => Spaces().Replace(name.Trim(), " ").ToLowerInvariant();

    private double? Thickness()
    {
        if (!table.Keywords.TryGetValue(ThicknessKeyword, out var text) || text.Trim() is "" or "unknown")
            return null;
        var ok = double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var um);
        if (ok && um is > 0 and <= MostFilmUm)
            return um;
        Wrong(
            "thickness",
            ThicknessKeyword,
            ok
                ? $"{Number(um)} um; above 0 and at most {MostFilmUm} is possible; write the dry film in um, or unknown"
                : $"\"{text}\" is not a number; write the dry film in um, or unknown"
        );
        return null;
    }

    private Mesh? MeshOf()
    {
        if (!table.Keywords.TryGetValue(MeshKeyword, out var label) || label.Trim().Length == 0)
            return null;
        if (Meshes.Parse(label.Trim()) is { } mesh)
            return mesh;
        Wrong("mesh", MeshKeyword, $"\"{label}\"; threads per cm and thread in um, such as 61-64, is possible");
        return null;
    }

    private double Ki()
    {
        var film = OpticalConvention.Film;
        if (!table.Keywords.TryGetValue(GeometryKeyword, out var text))
        {
            warnings.Add($"{GeometryKeyword} is not given: 45/0 on a matt film is assumed");
            return film.Ki;
        }
        switch (Plain(text))
        {
            case "45/0" or "0/45":
                return film.Ki;
            case "d/8 specular included" or "d/8 spin":
                return film.K1;
            default:
                Wrong("geometry", GeometryKeyword, $"\"{text}\"; 45/0, 0/45 or d/8 specular included is possible");
                return film.Ki;
        }
    }

    private void Wrong(string code, string keyword, string what) =>
        problems.Add(new(code, file, table.KeywordLines.GetValueOrDefault(keyword), keyword, what));

    private static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    [GeneratedRegex("[ _-]+", RegexOptions.None, 1000)]
    private static partial Regex Spaces();
}
