using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Rosters;

namespace ProofDesk.Printing.Cutting;

/// <summary>What a vinyl job hands over: cut paths per colour and per group of pieces, and the weeding report.</summary>
public static class VinylFiles
{
    /// <summary>How far a cut path may leave the film bits; with half a film pixel it stays below 0.05 mm from 300 dpi on.</summary>
    public const double ToleranceMm = 0.02;

    /// <summary>A file of its own for each group, unless the job falls into crumbs.</summary>
    private const int MostGroupFiles = 40;

    public static ImmutableArray<ProductionFile> Of(Proof proof)
    {
        var films = proof.Films;
        var layers = new CutLayer[films.Plates.Length];
        Parallel.For(
            0,
            layers.Length,
            i => layers[i] = CutLayer.Of(ContourTracer.Trace(films.Plates[i], films.Device, ToleranceMm))
        );
        var solids = InkListMaker.Solids(proof);
        var width = films.Width / films.Device.XDpi * 25.4;
        var height = films.Height / films.Device.YDpi * 25.4;
        var files = ImmutableArray.CreateBuilder<ProductionFile>();
        for (var i = 0; i < layers.Length; i++)
        {
            var plate = films.Plates[i].Plate;
            var name = $"cut-paths/{i + 1:00}-{Slug(plate.Name)}";
            var label = new CutSheetLabel(
                $"{i + 1:00} {plate.Name}",
                [
                    $"SHEET {i + 1} OF {layers.Length}: {plate.Name}, PRESSED {(i == 0 ? "FIRST" : $"ON TOP OF {i}")}",
                    films.Device.Mirror ? "MIRRORED: CUT FROM THE BACK, CARRIER DOWN" : "NOT MIRRORED: RIGHT-READING",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{width:0.0} X {height:0.0} MM, 1:1, {layers[i].Pieces.Count()} PIECES"
                    ),
                    $"RECIPE {proof.Recipe.Sha256[..16]}",
                ],
                Hex(solids[i])
            );
            files.Add(Svg(name + ".svg", null));
            if (layers[i].Groups.Length is > 1 and <= MostGroupFiles)
                for (var group = 1; group <= layers[i].Groups.Length; group++)
                    files.Add(Svg($"{name}/group-{group:00}.svg", group));

            ProductionText Svg(string file, int? only) =>
                new(
                    file,
                    "image/svg+xml",
                    CutPathSvg.Write(layers[i], width, height, films.Device.Mirror, label, only)
                );
        }
        files.Add(new ProductionText("weeding.csv", "text/csv", WeedingReport.Csv(proof, layers)));
        files.AddRange(RosterFiles.Of(proof));
        return files.ToImmutable();
    }

    internal static string Hex(LinearRgb colour)
    {
        var hex = new StringBuilder("#");
        foreach (var value in (double[])[colour.R, colour.G, colour.B])
            hex.Append(
                CultureInfo.InvariantCulture,
                $"{(int)Math.Round(255 * Srgb.Encode(Math.Clamp(value, 0, 1))):x2}"
            );
        return hex.ToString();
    }

    internal static string Slug(string name)
    {
        var letters = name.ToLowerInvariant().Select(c => char.IsAsciiLetterOrDigit(c) ? c : '-').ToArray();
        var slug = string.Join('-', new string(letters).Split('-', StringSplitOptions.RemoveEmptyEntries));
        return slug.Length == 0 ? "sheet" : slug[..Math.Min(40, slug.Length)];
    }
}
