using ProofDesk.Adapters.Codecs;
using ProofDesk.Tests.Photographs;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>`proofdesk photo-garment`, and `make` and `verify --rerender` on what it wrote.</summary>
public sealed class PhotoGarmentCommandTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("proofdesk-photo-garment-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task A_photograph_becomes_a_garment_that_is_printed_on_and_made_again_to_the_byte()
    {
        var (code, output, error) = await GarmentAsync(
            DrawnPhoto.Usual,
            "--name",
            "Harbour tee",
            "--colour",
            "Sea blue"
        );
        var garment = Path.Combine(folder, "out", "garment.json");

        Assert.Equal((0, ""), (code, error));
        Assert.Equal(
            "scale 0.900 px/mm, tapes disagree by 0.0 %\n",
            output[..(output.IndexOf('\n', StringComparison.Ordinal) + 1)]
        );
        Assert.Contains("\nground Lab 5", output, StringComparison.Ordinal);
        Assert.True(File.Exists(Path.Combine(folder, "out", "mask.png")));

        var made = await SealedProof.MadeAsync(
            Path.Combine(Root, "docs", "examples", "pennant.svg"),
            "image/svg+xml",
            "--garment",
            garment,
            "--colour",
            "sea-blue",
            "--method",
            "plastisol",
            "--width-mm",
            "60"
        );
        Assert.Contains("front/inputs/garment-harbour-tee.json", made.Files.Keys);
        Assert.Equal(
            await File.ReadAllBytesAsync(Path.Combine(folder, "out", "front.png")),
            made.Files["front/inputs/garment-harbour-tee-front.png"].Bytes
        );
        Assert.Contains("\"DataClass\":\"Photographed\"", made.Text("front/recipe.json"), StringComparison.Ordinal);

        var packet = Path.Combine(folder, "packet.zip");
        await made.WriteAsync(packet);
        var again = await RunAsync("verify", packet, "--trust", "none", "--rerender", "--key", SealedProof.Key);
        Assert.Equal("", again.Error);
        Assert.Contains(
            "\nsame     front: garment-harbour-tee-sea-blue.png: same bytes\n",
            again.Output,
            StringComparison.Ordinal
        );
        Assert.EndsWith(" were made again, every byte is the same\n", again.Output, StringComparison.Ordinal);

        var without = new SealedProof(made.Files.Remove("front/inputs/garment-harbour-tee-front.png"));
        await without.WriteAsync(packet);
        var missing = await RunAsync("verify", packet, "--trust", "none", "--rerender", "--key", SealedProof.Key);
        Assert.Contains(
            "front/inputs/garment-harbour-tee.json cannot be read: views[0].photograph: the file front.png is not there",
            missing.Error,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Another_picture_beside_the_garment_file_is_said()
    {
        await GarmentAsync(DrawnPhoto.Usual);
        var path = Path.Combine(folder, "out", "front.png");
        File.Copy(Path.Combine(folder, "out", "mask.png"), path, overwrite: true);

        var (code, _, error) = await RunAsync(
            "make",
            Path.Combine(Root, "docs", "examples", "pennant.svg"),
            "--garment",
            Path.Combine(folder, "out", "garment.json"),
            "--colour",
            "as-photographed",
            "--method",
            "plastisol",
            "--width-mm",
            "60",
            "--out",
            folder
        );

        Assert.Equal(2, code);
        Assert.Matches(
            "^.*garment.json: views\\[0\\].photograph: front.png is another file: its SHA-256 starts with [0-9a-f]{12}, [0-9a-f]{12} is named\nhint: docs/garment-format.md says what a garment file holds\n$",
            error
        );
    }

    [Fact]
    public async Task What_cannot_be_a_garment_says_so_and_writes_nothing()
    {
        var (small, _, smallSaid) = await GarmentAsync(new DrawnPhoto(480, 420, 0.9));
        var (dark, _, darkSaid) = await GarmentAsync(DrawnPhoto.Usual with { Width = 520, Exposure = 0.004 });
        var (words, _, wordsSaid) = await RunAsync(
            "photo-garment",
            Path.Combine(folder, "photo.png"),
            "--tape",
            "10 90; 500"
        );

        Assert.Equal((1, 1, 2), (small, dark, words));
        Assert.Equal(
            "the photograph is 480 x 420 px, its shorter side needs 500\nhint: send the picture as large as the camera saved it, not a preview of it\n",
            smallSaid
        );
        Assert.StartsWith("refusal: half of the marked area is darker than ", darkSaid, StringComparison.Ordinal);
        Assert.Equal(
            "--tape has 1 points, 2 needed\nhint: 'proofdesk photo-garment --help' lists the options\n",
            wordsSaid
        );
        Assert.False(Directory.Exists(Path.Combine(folder, "out")));
    }

    private async Task<(int Code, string Output, string Error)> GarmentAsync(DrawnPhoto photo, params string[] more)
    {
        var path = Path.Combine(folder, "photo.png");
        await File.WriteAllBytesAsync(path, PictureWriter.Png(photo.Draw()));
        return await RunAsync([
            "photo-garment",
            path,
            .. photo.Percent.SelectMany(option => new[] { $"--{option.Key}", option.Value }),
            "--out",
            Path.Combine(folder, "out"),
            .. more,
        ]);
    }
}
