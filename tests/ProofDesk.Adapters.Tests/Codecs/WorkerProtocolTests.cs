using System.Buffers.Binary;
using System.Text;
using System.Text.Json.Nodes;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Tests.Codecs;

/// <summary>What the parent believes of a worker: nothing it has not measured.</summary>
public class WorkerProtocolTests
{
    private const int HeaderBytes = 24;

    private static DecodedPicture Picture(params ArtLayer[] layers)
    {
        var pixels = new RgbaRaster(3, 2);
        for (var i = 0; i < pixels.Pixels.Length; i++)
            pixels.Pixels[i] = (ushort)(1000 * i);
        return new(pixels, new("tiff", 3, 2, 8, "grey", null, false, false), [])
        {
            Layers = [.. layers],
            Words = ["ROVERS", "since 1908"],
        };
    }

    private static ArtLayer Layer(string name, string? colour, byte first) =>
        new(name, colour, new(3, 2, [.. Enumerable.Range(0, 6).Select(i => (byte)(first + i))]));

    private static byte[] Written(DecodedPicture picture)
    {
        using var output = new MemoryStream();
        WorkerProtocol.Write(output, picture, DecodeLimits.Default);
        return output.ToArray();
    }

    private static Task<DecodedPicture?> Read(byte[] answer, DecodeLimits? limits = null) =>
        WorkerProtocol.ReadAsync(new MemoryStream(answer), limits ?? DecodeLimits.Default, CancellationToken.None);

    /// <summary>The same answer with another text in it.</summary>
    private static byte[] Retold(byte[] answer, Action<JsonNode> change)
    {
        var length = BinaryPrimitives.ReadInt32LittleEndian(answer.AsSpan(12));
        var json = JsonNode.Parse(answer.AsSpan(HeaderBytes, length))!;
        change(json);
        var text = Encoding.UTF8.GetBytes(json.ToJsonString());
        byte[] retold = [.. answer[..HeaderBytes], .. text, .. answer[(HeaderBytes + length)..]];
        BinaryPrimitives.WriteInt32LittleEndian(retold.AsSpan(12), text.Length);
        return retold;
    }

    [Fact]
    public async Task Pixels_layers_and_words_come_back_as_they_were()
    {
        var picture = Picture(Layer("Red", "#c8102e", 10), Layer("Base", null, 200));

        var read = await Read(Written(picture));

        Assert.NotNull(read);
        Assert.Equal(picture.Pixels.Pixels, read.Pixels.Pixels);
        Assert.Equal([("Red", "#c8102e"), ("Base", null)], read.Layers.Select(l => (l.Name, l.Colour)));
        Assert.Equal([10, 11, 12, 13, 14, 15], read.Layers[0].Coverage.Pixels);
        Assert.Equal([200, 201, 202, 203, 204, 205], read.Layers[1].Coverage.Pixels);
        Assert.Equal(picture.Words.AsEnumerable(), read.Words);
    }

    [Fact]
    public async Task An_answer_of_another_version_is_no_answer()
    {
        var answer = Written(Picture());
        answer[6] = (byte)'1';

        Assert.Null(await Read(answer));
    }

    [Fact]
    public async Task A_plane_that_is_missing_or_too_long_is_no_answer()
    {
        var answer = Written(Picture(Layer("Red", null, 1), Layer("Blue", null, 1)));

        Assert.Null(await Read(answer[..^1]));
        Assert.Null(await Read(answer[..^6]));
        Assert.Null(await Read([.. answer, 0]));
    }

    [Fact]
    public async Task More_layers_than_allowed_are_no_answer()
    {
        var answer = Written(Picture(Layer("Red", null, 1), Layer("Blue", null, 1)));

        Assert.NotNull(await Read(answer, new() { MaxLayers = 2, MaxLayerPixels = 12 }));
        Assert.Null(await Read(answer, new() { MaxLayers = 1 }));
        Assert.Null(await Read(answer, new() { MaxLayerPixels = 11 }));
    }

    [Fact]
    public async Task Names_colours_and_words_are_measured()
    {
        var answer = Written(Picture(Layer("Red", null, 1)));
        var tooLong = new string('x', 201);

        Assert.NotNull(await Read(Retold(answer, j => j["Layers"]![0]!["Name"] = "Rot")));
        Assert.Null(await Read(Retold(answer, j => j["Layers"]![0]!["Name"] = "")));
        Assert.Null(await Read(Retold(answer, j => j["Layers"]![0]!["Name"] = tooLong)));
        Assert.Null(await Read(Retold(answer, j => j["Layers"]![0]!["Colour"] = "red")));
        Assert.Null(await Read(Retold(answer, j => j["Layers"]![0] = null)));
        Assert.Null(await Read(Retold(answer, j => j["Layers"] = null)));
        Assert.Null(await Read(Retold(answer, j => j["Words"] = null)));
        Assert.Null(await Read(Retold(answer, j => j["Words"]![0] = tooLong)));
    }

    [Fact]
    public async Task A_long_name_is_cut_by_the_writer()
    {
        var read = await Read(Written(Picture(Layer(new string('x', 500), null, 1))));

        Assert.Equal(new string('x', 197) + "...", Assert.Single(read!.Layers).Name);
    }

    [Fact]
    public async Task More_words_than_allowed_are_not_told()
    {
        var picture = Picture() with { Words = [.. Enumerable.Range(0, 900).Select(i => $"line {i}")] };

        Assert.Equal(500, (await Read(Written(picture)))!.Words.Length);
    }
}
