using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Garments;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.TestForms;

namespace ProofDesk.Cli;

/// <summary>`proofdesk test-form`: films of the shop's test form, one set a mesh, and a blank sheet for the readings.</summary>
internal static class TestFormCommand
{
    public const string Help = """
        usage: proofdesk test-form --out DIR [--mesh LABEL[,LABEL]] [--inks ID[,ID]] [--garment ID] [--colour ID] [--lpi N] [--film-dpi N]
          --mesh LABEL[,LABEL]  one set of films each (61-64)
          --inks ID[,ID]        1 to 6 colours beside the white (black,red)
          --garment ID          the cloth it is printed on (tee)
          --colour ID           (black)
          --lpi N               ruling of the wedges (from the mesh)
          --film-dpi N          device resolution, 600 to 5080 (1440)
        writes DIR/MESH/plates/*.tif, plates.pdf, preview.png and readings.json; docs/test-form.md says how to print and read it
        """;

    public static int Run(string[] args, TextWriter output, TextWriter error, CancellationToken cancel)
    {
        if (args is ["--help" or "-h"])
        {
            output.WriteLine(Help);
            return CommandLine.Done;
        }
        try
        {
            var given = Options.Read(
                args,
                ["--out", "--mesh", "--inks", "--garment", "--colour", "--lpi", "--film-dpi"],
                0
            );
            var folder = given.Needed("--out");
            var ground = Ground(given.Value("--garment", "tee"), given.Value("--colour", "black"));
            foreach (var label in given.List("--mesh", "61-64"))
                Write(Settings(given, label, ground), ground, Path.Combine(folder, label), output, cancel);
            return CommandLine.Done;
        }
        catch (UsageProblem problem)
        {
            return CommandLine.Misunderstood(error, problem.Message, $"hint: {problem.Hint}");
        }
        catch (ArgumentException problem)
        {
            return CommandLine.Misunderstood(
                error,
                problem.Message,
                "hint: 'proofdesk test-form --help' lists the options"
            );
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            error.WriteLine($"cannot write: {char.ToLowerInvariant(e.Message[0])}{e.Message[1..].TrimEnd('.')}");
            return CommandLine.Refused;
        }
    }

    private static TestFormSettings Settings(Options given, string label, Ground ground)
    {
        var labels = Meshes.Default.Select(m => m.Label).ToArray();
        var mesh =
            Meshes.Find(label)
            ?? throw new UsageProblem(
                $"no mesh '{label}'{Nearest.Guess(label, labels)}",
                $"there are {string.Join(", ", labels)}"
            );
        var ids = InkLibrary.Default.Select(i => i.Id).ToArray();
        var inks = given
            .List("--inks", "black,red")
            .Select(id =>
                InkLibrary.Find(id)
                ?? throw new UsageProblem($"no ink '{id}'{Nearest.Guess(id, ids)}", "'proofdesk inks' lists them")
            )
            .ToList();
        var dpi = given.Number("--film-dpi", 600, 5080) ?? 1440;
        return new(mesh, InkLibrary.BaseWhite(inks[0].Kind), [.. inks], TestFormSettings.ClothOf(ground))
        {
            LinesPerInch = given.Number("--lpi", 15, 100),
            Device = OutputDevice.Fallback with { XDpi = dpi, YDpi = dpi },
        };
    }

    private static void Write(
        TestFormSettings settings,
        Ground ground,
        string folder,
        TextWriter output,
        CancellationToken cancel
    )
    {
        var plates = Path.Combine(folder, "plates");
        Directory.CreateDirectory(plates);
        foreach (var old in Directory.EnumerateFiles(plates, "*.tif"))
            File.Delete(old);
        foreach (var file in TestFormFiles.Of(settings, ground, cancel))
        {
            using (var stream = File.Create(Path.Combine(folder, file.Name)))
                file.Write(stream);
            output.WriteLine($"{settings.Mesh.Label}/{file.Name}");
        }
    }

    private static Ground Ground(string garmentId, string colourId)
    {
        var catalogue = GarmentCatalogue.Load(GarmentCatalogue.ShippedFolder);
        var ids = catalogue.Garments.Select(g => g.Id).ToArray();
        var garment =
            catalogue.Find(garmentId)
            ?? throw new UsageProblem(
                $"no garment '{garmentId}'{Nearest.Guess(garmentId, ids)}",
                $"there are {string.Join(", ", ids)}"
            );
        var colours = garment.Colours.Select(c => c.Id).ToArray();
        return new(
            garment,
            garment.Colour(colourId)
                ?? throw new UsageProblem(
                    $"'{garmentId}' has no colour '{colourId}'{Nearest.Guess(colourId, colours)}",
                    $"it has {string.Join(", ", colours)}"
                )
        );
    }
}
