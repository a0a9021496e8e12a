using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

public sealed class TestFormCommandTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-form").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_form_goes_out_as_films_and_comes_back_as_a_press()
    {
        var (code, output, error) = await RunAsync(
            "test-form",
            "--out",
            _folder,
            "--film-dpi",
            "720",
            "--inks",
            "black"
        );

        Assert.Equal((0, ""), (code, error));
        Assert.Equal(
            """
            61-64/plates/01-white.tif
            61-64/plates/02-black.tif
            61-64/plates.pdf
            61-64/preview.png
            61-64/readings.json

            """.ReplaceLineEndings(),
            output
        );
        var sheet = Path.Combine(_folder, "61-64", "readings.json");
        var press = Path.Combine(_folder, "press.json");
        var text = await File.ReadAllTextAsync(sheet);
        await File.WriteAllTextAsync(
            sheet,
            text.Replace("\"growthUm\": null", "\"growthUm\": 45", StringComparison.Ordinal)
        );

        (code, output, error) = await RunAsync("press-fit", sheet, "--name", "left press", "--out", press);

        Assert.Equal((0, ""), (code, error));
        Assert.StartsWith(
            "ink growth at an edge on bare cloth: 45 um (usual 25), class B, from the taper, 1 block",
            output,
            StringComparison.Ordinal
        );
        Assert.Contains("\"name\": \"left press\"", await File.ReadAllTextAsync(press), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_reading_that_cannot_be_is_refused_with_its_field()
    {
        await RunAsync("test-form", "--out", _folder, "--film-dpi", "720", "--inks", "black");
        var sheet = Path.Combine(_folder, "61-64", "readings.json");
        var text = await File.ReadAllTextAsync(sheet);
        await File.WriteAllTextAsync(
            sheet,
            text.Replace("\"growthUm\": null", "\"growthUm\": 400", StringComparison.Ordinal)
        );

        var (code, output, error) = await RunAsync("press-fit", sheet, "--out", Path.Combine(_folder, "press.json"));

        Assert.Equal((1, ""), (code, output));
        Assert.StartsWith("blocks[0].growthUm is 400 um; 0 to 120 um can be read", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_unknown_mesh_is_told_with_what_there_is()
    {
        var (code, _, error) = await RunAsync("test-form", "--out", _folder, "--mesh", "61-65");

        Assert.Equal(2, code);
        Assert.StartsWith("no mesh '61-65'", error, StringComparison.Ordinal);
    }
}
