using ProofDesk.Approvals.Manifests;
using ProofDesk.Printing.Proofs;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>`proofdesk verify --rerender`: plates and pictures made again from what a packet holds.</summary>
public sealed class RerenderCommandTests(RerenderCommandTests.Made made) : IClassFixture<RerenderCommandTests.Made>
{
    /// <summary>Flat art in an own ink, one film choked by hand; made once for all tests.</summary>
    public sealed class Made : IAsyncLifetime
    {
        public string Folder { get; } = Directory.CreateTempSubdirectory("proofdesk-rerender-").FullName;

        internal SealedProof Flat { get; private set; } = null!;

        public async Task InitializeAsync()
        {
            var byHand = Path.Combine(Folder, "by-hand.json");
            await File.WriteAllTextAsync(byHand, """{"plates":[{"plate":"Harbour red","spreadUm":-40}]}""");
            Flat = await SealedProof.MadeAsync(
                Path.Combine(Root, "docs", "examples", "pennant.svg"),
                "image/svg+xml",
                "--colour",
                "black",
                "--method",
                "plastisol",
                "--width-mm",
                "40",
                "--inks",
                Path.Combine(Root, "docs", "examples", "harbour-inks.json"),
                "--by-hand",
                byHand
            );
        }

        public Task DisposeAsync()
        {
            Directory.Delete(Folder, recursive: true);
            return Task.CompletedTask;
        }
    }

    private async Task<(int Code, string Output, string Error)> VerifyAsync(SealedProof proof, params string[] options)
    {
        var packet = Path.Combine(made.Folder, $"{Guid.NewGuid():N}.zip");
        await proof.WriteAsync(packet);
        return await RunAsync(["verify", packet, "--trust", "none", "--rerender", .. options]);
    }

    [Fact]
    public async Task Flat_art_with_an_own_ink_and_a_change_by_hand_is_made_again_to_the_byte()
    {
        var (code, output, error) = await VerifyAsync(made.Flat, "--key", SealedProof.Key);

        Assert.Equal("", error);
        Assert.DoesNotContain("DIFFERS", output, StringComparison.Ordinal);
        Assert.DoesNotContain("note ", output, StringComparison.Ordinal);
        Assert.Contains(
            $"\nmaking it again with engine {ProofMaker.EngineVersion}\nsame     front: plate 1 of 4 (Base): same bytes\n",
            output,
            StringComparison.Ordinal
        );
        Assert.Contains("\nsame     front: plate 3 of 4 (Harbour red): same bytes\n", output, StringComparison.Ordinal);
        Assert.Contains("\nsame     front: garment-tee-black.png: same bytes\n", output, StringComparison.Ordinal);
        Assert.EndsWith(
            "\nequal: 4 plates, 11 pictures and 4 other files were made again, every byte is the same\n",
            output,
            StringComparison.Ordinal
        );
        Assert.Equal(0, code);
    }

    [Fact]
    public async Task Painted_art_is_made_again_to_the_byte_and_without_a_key_the_packet_is_still_not_anchored()
    {
        var painted = await SealedProof.MadeAsync(
            Path.Combine(Root, "tests", "TestPictures", "harbour.svg"),
            "image/svg+xml",
            "--colour",
            "black",
            "--method",
            "simulated-process",
            "--width-mm",
            "30"
        );

        var (code, output, error) = await VerifyAsync(painted);

        Assert.Equal("", error);
        Assert.DoesNotContain("DIFFERS", output, StringComparison.Ordinal);
        Assert.Contains("\nequal: ", output, StringComparison.Ordinal);
        Assert.Equal(2, code);
    }

    // The shop holds the key: it can sign whatever fits. What it cannot do is make the films come out of another recipe.
    [Fact]
    public async Task A_recipe_that_a_dishonest_shop_exchanged_is_found_with_the_plate_and_the_row()
    {
        var forged = made.Flat.With("front/recipe.json", "\\\"spreadUm\\\": -40", "\\\"spreadUm\\\": 150");

        var (code, output, error) = await VerifyAsync(forged, "--key", SealedProof.Key);

        Assert.Equal("", error);
        Assert.Contains("\nvalid: Kim Reed approved this version for production", output, StringComparison.Ordinal);
        Assert.Contains("\nsame     front: plate 1 of 4 (Base): same bytes\n", output, StringComparison.Ordinal);
        Assert.Matches(
            "\nDIFFERS  front: plate 3 of 4 \\(Harbour red\\): differs: first differing row [0-9]+ of [0-9]+, [0-9]+ of [0-9]+ dots\n",
            output
        );
        Assert.Matches(
            "\nDIFFERS  front: print-tee-black.png: differs: first differing row [0-9]+ of [0-9]+, ",
            output
        );
        Assert.Matches("\nDIFFERS  front: ink-list.csv: differs: first differing line [0-9]+, byte ", output);
        Assert.Matches(
            "\ndifferent: of 4 plates, 11 pictures and 4 other files made again, 1 plates, [0-9]+ pictures and [0-9]+ other files are not the same\n$",
            output
        );
        Assert.Equal(4, code);
    }

    [Fact]
    public async Task Another_engine_is_named_and_the_comparison_is_made_all_the_same()
    {
        var older = made.Flat.With(
            "front/recipe.json",
            $"\"Engine\":\"{ProofMaker.EngineVersion}\"",
            "\"Engine\":\"0.2.9\""
        );

        var (code, output, _) = await VerifyAsync(older, "--key", SealedProof.Key);

        Assert.Contains(
            $"\nnote     front was made by engine 0.2.9, this is engine {ProofMaker.EngineVersion}: differences may be the engine's\nequal: ",
            output,
            StringComparison.Ordinal
        );
        Assert.Equal(0, code);
    }

    [Fact]
    public async Task What_is_missing_or_not_understood_is_said()
    {
        var artless = await VerifyAsync(made.Flat.Without(FileRole.Art), "--key", SealedProof.Key);
        var newer = await VerifyAsync(
            made.Flat.With(
                "front/recipe.json",
                "\"Engine\":\"" + ProofMaker.EngineVersion,
                "\"Dusting\":2,\"Engine\":\"9.0.0"
            )
        );
        var art = Sha256Digest.Of(await File.ReadAllBytesAsync(Path.Combine(Root, "docs", "examples", "pennant.svg")));

        Assert.Equal(
            $"cannot be made again: the art of front is missing: its recipe names a file with SHA-256 {art.Hex}, and no bound file has it (versions frozen before art was bound hold none)\n",
            artless.Error
        );
        Assert.Contains("\nvalid: Kim Reed approved", artless.Output, StringComparison.Ordinal);
        Assert.Equal(3, artless.Code);
        Assert.Equal(
            $"cannot be made again: Dusting is a setting this program does not know; the recipe is of engine 9.0.0, this program is {ProofMaker.EngineVersion}: use a program of that version\n",
            newer.Error
        );
        Assert.Equal(3, newer.Code);
    }
}
