using System.Globalization;
using System.Text.Json;
using ProofDesk.Adapters.Codecs.Pdf;

namespace ProofDesk.Adapters.Codecs;

/// <summary>
/// The worker's side: the file on standard input, the answer on standard output. Limits arrive as one JSON argument,
/// because a sandbox has no other way in.
/// </summary>
public static class DecodeWorker
{
    /// <summary>The command line's hidden verb.</summary>
    public const string Verb = "decode-worker";

    /// <param name="arguments">Print width in mm, then the limits and what a PDF needs, each as JSON.</param>
    /// <returns>0 when an answer was written, a refusal included; 2 when the arguments are not ours.</returns>
    public static int Run(IReadOnlyList<string> arguments, Stream input, Stream output)
    {
        if (
            arguments.Count != 3
            || !double.TryParse(arguments[0], NumberStyles.Float, CultureInfo.InvariantCulture, out var widthMm)
            || JsonSerializer.Deserialize<DecodeLimits>(arguments[1]) is not { } limits
            || JsonSerializer.Deserialize<PdfWish>(arguments[2]) is not { } pdf
        )
            return 2;
        using var buffered = new BufferedStream(output, 1 << 20);
        try
        {
            var file = ReadAll(input, limits);
            var decoded =
                ArtFormat.Of(file) == ArtFormat.Pdf
                    ? PdfReader.Read(file, pdf, widthMm, limits)
                    : PictureReader.Read(file, widthMm, limits);
            WorkerProtocol.Write(buffered, decoded, limits);
        }
        catch (UnreadableArt refused)
        {
            WorkerProtocol.Write(buffered, refused);
        }
        return 0;
    }

    private static byte[] ReadAll(Stream input, DecodeLimits limits)
    {
        using var file = new MemoryStream();
        var block = new byte[1 << 16];
        for (int got; (got = input.Read(block)) > 0; )
        {
            if (file.Length + got > limits.MaxFileBytes)
                throw TooLarge(limits);
            file.Write(block, 0, got);
        }
        return file.ToArray();
    }

    internal static UnreadableArt TooLarge(DecodeLimits limits) =>
        new(
            "file-too-large",
            $"the file is larger than {limits.MaxFileBytes >> 20} MiB",
            "flatten it, or scale it to 600 px per inch of print",
            null,
            limits.MaxFileBytes
        );
}
