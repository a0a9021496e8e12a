using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Runtime.InteropServices;
using System.Text.Json;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs;

/// <summary>
/// What the worker says, on its standard output: 24 bytes of header, one JSON text, then the pixels, then a plane for
/// each layer the text names, and nothing more.
/// All numbers little-endian. The reader believes no size it has not checked.
/// </summary>
/// <remarks>
/// Header: "PDWORK2\n" (the figure is the version), u32 kind (0 refused, 1 picture), u32 JSON bytes, u32 width,
/// u32 height. The pixels are width x height x 4 values of 16 bits: linear R, G, B and alpha; a plane is width x height
/// bytes of coverage.
/// </remarks>
internal static class WorkerProtocol
{
    private const int HeaderBytes = 24;
    private const int MaxJson = 512 * 1024;
    private static ReadOnlySpan<byte> Magic => "PDWORK2\n"u8;

    /// <summary>Longest name of a layer and longest line of text, in characters.</summary>
    private const int MaxName = 200;

    public sealed record Picture(
        ArtSource Source,
        ImmutableArray<Finding> Findings,
        ImmutableArray<LayerName> Layers,
        ImmutableArray<string> Words
    );

    public sealed record LayerName(string Name, string? Colour);

    public sealed record Refusal(string Code, string What, string NextStep, double? Given, double? Limit);

    public static void Write(Stream output, DecodedPicture decoded, DecodeLimits limits)
    {
        var pixels = decoded.Pixels;
        var picture = new Picture(
            decoded.Source,
            [.. decoded.Findings],
            [.. decoded.Layers.Select(l => new LayerName(Short(l.Name), l.Colour))],
            [.. decoded.Words.Take(limits.MaxWords).Select(Short)]
        );
        WriteHeader(output, 1, JsonSerializer.SerializeToUtf8Bytes(picture), pixels.Width, pixels.Height);
        for (var y = 0; y < pixels.Height; y++)
            output.Write(MemoryMarshal.AsBytes(pixels.Row(y)));
        foreach (var layer in decoded.Layers)
            output.Write(layer.Coverage.Pixels);
        output.Flush();
    }

    private static string Short(string text) => text.Length <= MaxName ? text : text[..(MaxName - 3)] + "...";

    public static void Write(Stream output, UnreadableArt refused)
    {
        var json = JsonSerializer.SerializeToUtf8Bytes(
            new Refusal(refused.Code, refused.What, refused.NextStep, refused.Given, refused.Limit)
        );
        WriteHeader(output, 0, json, 0, 0);
        output.Flush();
    }

    private static void WriteHeader(Stream output, uint kind, byte[] json, int width, int height)
    {
        Span<byte> header = stackalloc byte[HeaderBytes];
        Magic.CopyTo(header);
        BinaryPrimitives.WriteUInt32LittleEndian(header[8..], kind);
        BinaryPrimitives.WriteUInt32LittleEndian(header[12..], (uint)json.Length);
        BinaryPrimitives.WriteUInt32LittleEndian(header[16..], (uint)width);
        BinaryPrimitives.WriteUInt32LittleEndian(header[20..], (uint)height);
        output.Write(header);
        output.Write(json);
    }

    /// <summary>Reads a whole answer.</summary>
    /// <returns>Null when the answer is not one: the worker died, or said something else.</returns>
    /// <exception cref="UnreadableArt">The worker refused the file, in its own words.</exception>
    public static async Task<DecodedPicture?> ReadAsync(Stream input, DecodeLimits limits, CancellationToken cancel)
    {
        var header = new byte[HeaderBytes];
        if (await input.ReadAtLeastAsync(header, HeaderBytes, false, cancel) < HeaderBytes)
            return null;
        if (!header.AsSpan(0, 8).SequenceEqual(Magic))
            return null;
        var kind = U32(header, 8);
        var (jsonBytes, width, height) = (U32(header, 12), U32(header, 16), U32(header, 20));
        if (jsonBytes > MaxJson || kind > 1)
            return null;
        var json = new byte[jsonBytes];
        if (await input.ReadAtLeastAsync(json, json.Length, false, cancel) < json.Length)
            return null;
        if (kind == 0)
        {
            var no = Parse<Refusal>(json);
            if (no is { Code: not null, What: not null, NextStep: not null })
                throw new UnreadableArt(no.Code, no.What, no.NextStep, no.Given, no.Limit);
            return null;
        }
        var most = Math.Max(limits.MaxPixels, limits.MaxVectorPixels);
        if (width < 1 || height < 1 || width > limits.MaxSide || height > limits.MaxSide || (long)width * height > most)
            return null;
        var picture = Parse<Picture>(json);
        if (picture?.Source is null || picture.Findings.IsDefault || !AreSane(picture, width, height, limits))
            return null;
        if (picture.Source.WidthPixels != width || picture.Source.HeightPixels != height)
            return null;
        var pixels = new RgbaRaster((int)width, (int)height);
        for (var y = 0; y < pixels.Height; y += 64)
        {
            var rows = Math.Min(64, pixels.Height - y);
            var strip = new byte[checked(rows * pixels.Width * 8)];
            if (await input.ReadAtLeastAsync(strip, strip.Length, false, cancel) < strip.Length)
                return null;
            MemoryMarshal
                .Cast<byte, ushort>(strip)
                .CopyTo(pixels.Pixels.AsSpan(checked(y * pixels.Width * 4), rows * pixels.Width * 4));
        }
        var layers = ImmutableArray.CreateBuilder<ArtLayer>(picture.Layers.Length);
        foreach (var name in picture.Layers)
        {
            var plane = new BytePlane(pixels.Width, pixels.Height);
            if (await input.ReadAtLeastAsync(plane.Pixels, plane.Pixels.Length, false, cancel) < plane.Pixels.Length)
                return null;
            layers.Add(new(name.Name, name.Colour, plane));
        }
        return await input.ReadAsync(header, cancel) == 0
            ? new(pixels, picture.Source, picture.Findings) { Layers = layers.MoveToImmutable(), Words = picture.Words }
            : null;
    }

    private static bool AreSane(Picture picture, long width, long height, DecodeLimits limits) =>
        !picture.Layers.IsDefault
        && !picture.Words.IsDefault
        && picture.Layers.Length <= limits.MaxLayers
        && picture.Layers.Length * width * height <= limits.MaxLayerPixels
        && picture.Layers.All(l => l?.Name is { Length: > 0 and <= MaxName } && l.Colour is null or { Length: 7 })
        && picture.Words.Length <= limits.MaxWords
        && picture.Words.All(w => w is { Length: <= MaxName });

    private static uint U32(byte[] bytes, int at) => BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(at));

    private static T? Parse<T>(byte[] json)
        where T : class
    {
        try
        {
            return JsonSerializer.Deserialize<T>(json);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
