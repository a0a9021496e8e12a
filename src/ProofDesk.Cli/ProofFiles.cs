using System.Text;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Cli;

/// <summary>A proof as the folder scripts rely on.</summary>
internal static class ProofFiles
{
    public static void Write(Proof proof, MakeArguments arguments, TextWriter output, CancellationToken cancel)
    {
        var folder = arguments.Out;
        var several = proof.Grounds.Length > 1;
        var pictures = new List<(string Name, RgbPicture Picture)>();
        foreach (var ground in proof.Grounds)
        {
            var suffix = several ? $"-{ground.Ground.Colour.Id}" : "";
            pictures.Add(($"print{suffix}.png", ground.Expected.Print));
            foreach (var end in ground.Range)
                pictures.Add(($"print{suffix}-{(end.Deposit == Deposit.Light ? "light" : "heavy")}.png", end.Print));
            foreach (var head in ground.HeadByHead)
                pictures.Add(($"print{suffix}-head-{head.AfterScreens}.png", head.Print));
            pictures.Add(($"garment{suffix}.png", ground.Garment));
            if (proof.Separation.Reach.FirstOrDefault(r => r.Ground == ground.Ground) is { } reach)
                pictures.Add(($"reach{suffix}.png", ReachPicture.Draw(reach)));
            if (ground.Strip is { } strip)
                pictures.Add(($"run{suffix}.png", strip.Picture));
        }
        if (proof.Roster is { } roster)
        {
            pictures.Add(("roster.png", roster.Sheet));
            pictures.Add(("roster-first.png", roster.First.Print));
            pictures.Add(("roster-garment.png", roster.Garment));
        }
        // Packing takes one core a picture; the names are still said in order.
        Parallel.ForEach(
            pictures,
            new() { CancellationToken = cancel },
            p => File.WriteAllBytes(Path.Combine(folder, p.Name), PictureWriter.Png(p.Picture))
        );
        foreach (var (name, picture) in pictures)
            output.WriteLine($"{name}  {picture.Width} x {picture.Height} px");
        Plates(proof, arguments, output, cancel);
        foreach (var (name, bytes) in ProductionWriter.Write(proof))
        {
            var path = Path.Combine(folder, name);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllBytes(path, bytes);
            output.WriteLine(name);
        }
        Text(folder, "ink-list.csv", InkListCsv.Write([.. proof.Grounds.Select(g => g.InkList)]), output);
        Text(folder, "ink-list.json", InkListJson.Write(proof), output);
        Text(folder, "recipe.json", proof.Recipe.Json, output);
        ByHandArgument.WriteBlank(proof, arguments, output);
        Text(folder, "findings.json", FindingsJson.Write(proof.Findings), output);
        output.WriteLine(ProofConfidence.Of(proof).Text);
        output.WriteLine($"recipe {proof.Recipe.Sha256}");
    }

    private static void Plates(Proof proof, MakeArguments arguments, TextWriter output, CancellationToken cancel)
    {
        var plates = Path.Combine(arguments.Out, "plates");
        Directory.CreateDirectory(plates);
        // Plates of an earlier run would be burned by somebody.
        foreach (var old in Directory.EnumerateFiles(plates, "*.tif"))
            File.Delete(old);
        var art = Path.GetFileNameWithoutExtension(arguments.Art);
        var name = new FilmSetName(arguments.Order, art, proof.Recipe.Sha256[..8], arguments.Released);
        for (var i = 0; i < proof.Films.Plates.Length; i++)
        {
            var file = PlateFiles.FileName(i, proof.Films.Plates[i].Plate.Name);
            using (var stream = File.Create(Path.Combine(plates, file)))
                PlateFiles.Write(proof.Films, i, proof.Measures[i], name, stream, cancel);
            output.WriteLine($"plates/{file}  {proof.Measures[i].CoveragePercent:0.00} %");
        }
        using (var pdf = File.Create(Path.Combine(arguments.Out, "plates.pdf")))
            PlatesPdf.Write(pdf, proof.Films, InkListMaker.Solids(proof), $"{art}, plates", arguments.Released, cancel);
        output.WriteLine("plates.pdf");
        Views(proof, name, arguments, output, cancel);
    }

    /// <summary>Small pictures of the films, each and all together.</summary>
    private static void Views(
        Proof proof,
        FilmSetName name,
        MakeArguments arguments,
        TextWriter output,
        CancellationToken cancel
    )
    {
        var folder = Path.Combine(arguments.Out, "films");
        Directory.CreateDirectory(folder);
        foreach (var old in Directory.EnumerateFiles(folder, "film-*.png"))
            File.Delete(old);
        var views = FilmViews.Of(proof, name, cancel);
        foreach (var view in views.Films)
        {
            File.WriteAllBytes(Path.Combine(folder, view.Name), view.Png);
            output.WriteLine($"films/{view.Name}");
        }
        File.WriteAllBytes(Path.Combine(arguments.Out, "films.png"), views.Together);
        output.WriteLine("films.png");
    }

    private static void Text(string folder, string name, string text, TextWriter output)
    {
        File.WriteAllText(Path.Combine(folder, name), text, new UTF8Encoding(false));
        output.WriteLine(name);
    }
}
