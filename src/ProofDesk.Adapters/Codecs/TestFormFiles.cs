using System.Text;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.TestForms;

namespace ProofDesk.Adapters.Codecs;

/// <summary>One file of a test form; its stream must be able to seek.</summary>
/// <param name="Name">With forward slashes: "plates/01-white.tif".</param>
public sealed record TestFormFile(string Name, Action<Stream> Write);

/// <summary>The files of a shop's test form: films, the films as PDF, what to expect, and the blank reading sheet.</summary>
public static class TestFormFiles
{
    public const string Readings = "readings.json";

    public static IEnumerable<TestFormFile> Of(TestFormSettings settings, Ground ground, CancellationToken cancel)
    {
        var form = TestForm.Draw(settings);
        // A test form is no client's proof: nobody has to release it.
        var name = new FilmSetName("TEST FORM", settings.Mesh.Label, "1", Released: true);
        for (var i = 0; i < form.Films.Plates.Length; i++)
        {
            var plate = i;
            yield return new(
                $"plates/{PlateFiles.FileName(plate, form.Films.Plates[plate].Plate.Name)}",
                stream =>
                {
                    var measure = FilmMeasure.Of(form.Films.Plates[plate], settings.Device, cancel);
                    PlateFiles.Write(form.Films, plate, measure, name, stream, cancel);
                }
            );
        }
        yield return new(
            "plates.pdf",
            stream =>
            {
                var solids = ExpectedSolids
                    .Of(form.Films.Separation, form.Sheet(ground), PressSettings.Automatic)
                    .Select(s => GamutMapping.IntoSrgb(Srgb.FromLab(s.Expected)))
                    .ToList();
                PlatesPdf.Write(stream, form.Films, solids, $"test form {settings.Mesh.Label}", cancel: cancel);
            }
        );
        yield return new(
            "preview.png",
            stream =>
                stream.Write(
                    PictureWriter.Png(
                        PrintSimulator
                            .Print(
                                form.Films,
                                form.Sheet(ground),
                                PressSettings.Automatic,
                                Deposit.Expected,
                                ViewingLight.D65,
                                1,
                                cancellation: cancel
                            )
                            .Print
                    )
                )
        );
        yield return new(
            Readings,
            stream => stream.Write(new UTF8Encoding(false).GetBytes(ReadingSheetJson.Blank(settings, ground)))
        );
    }
}
