using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Garments;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Garments.Photographs;

namespace ProofDesk.Cli;

/// <summary>`proofdesk photo-garment`: a photograph and what is measured on it in, a garment folder out.</summary>
internal static class PhotoGarmentCommand
{
    public const string Help = """
        usage: proofdesk photo-garment PHOTO --tape TAPE --seam POINT --down POINT --area POINTS --out DIR [options]
          points are percent of the picture's width and height: "50 12.5"; several with semicolons
          --tape "X Y; X Y; MM"   two points that are MM apart on the cloth
          --check "X Y; X Y; MM"  a second tape, best across the first
          --seam "X Y"            middle of the collar seam
          --down "X Y"            a point further down the centre line
          --area "X Y; X Y; ..."  corners of the garment; two are those of a rectangle
          --tolerance N           keeps what differs by at most N from the cloth's colour, 1 to 100; none = all of the area (20)
          --name TEXT  --id ID  --size L  --side front|back  --colour TEXT
          --fibres LIST           shares that add up to 1: cotton:0.5,polyester:0.5 (cotton:1)
          --cloth jersey|fleece|canvas
          --lab "L a b"           a measured Lab (D50) in place of the photograph's
        DIR gets garment.json, front.png or back.png, and mask.png; 'proofdesk make ... --garment DIR/garment.json' prints on it
        """;

    private static readonly string[] Known =
    [
        "--tape",
        "--check",
        "--seam",
        "--down",
        "--area",
        "--tolerance",
        "--name",
        "--id",
        "--size",
        "--side",
        "--colour",
        "--fibres",
        "--cloth",
        "--lab",
        "--out",
    ];

    public static async Task<int> RunAsync(string[] args, TextWriter output, TextWriter error, CancellationToken cancel)
    {
        if (args is ["--help" or "-h"])
        {
            output.WriteLine(Help);
            return CommandLine.Done;
        }
        try
        {
            var given = Options.Read(args, Known, 1);
            if (given.Words is not [var path])
                throw Wrong("the photograph is missing");
            if (!File.Exists(path))
                throw Wrong($"there is no file '{path}'");
            var photographs = new GarmentPhotographs(new ArtDecoder());
            byte[] kept;
            await using (var file = File.OpenRead(path))
                kept = await photographs.KeptAsync(file, cancel);
            var photo = await photographs.ReadAsync(kept, cancel);
            var marks = Marks(given, photo.Width, photo.Height);
            var (reading, findings) = PhotoReading.Of(photo, marks);
            MakeCommand.Say(error, findings);
            if (reading is null || reading.IsRefused)
                return CommandLine.Refused;
            var side = OneOf(
                "--side",
                given.Value("--side", "front"),
                ("front", GarmentSide.Front),
                ("back", GarmentSide.Back)
            );
            var name = $"{side.ToString().ToLowerInvariant()}.png";
            var garment = Garment(
                given,
                side,
                new(name, Convert.ToHexStringLower(SHA256.HashData(kept)), photo.Width, photo.Height, marks)
            );
            var json = garment.Write(reading);
            GarmentCatalogue.Read(json);
            var to = given.Needed("--out");
            Directory.CreateDirectory(to);
            await File.WriteAllBytesAsync(Path.Combine(to, "garment.json"), json, cancel);
            await File.WriteAllBytesAsync(Path.Combine(to, name), kept, cancel);
            await File.WriteAllBytesAsync(
                Path.Combine(to, "mask.png"),
                PictureWriter.Png(reading.Cloth, reading.Scale.PixelsPerMm),
                cancel
            );
            Say(reading, output);
            return CommandLine.Done;
        }
        catch (UsageProblem problem)
        {
            return CommandLine.Misunderstood(error, problem.Message, $"hint: {problem.Hint}");
        }
        catch (UnreadableArt problem)
        {
            error.WriteLine(problem.What);
            error.WriteLine($"hint: {problem.NextStep}");
        }
        catch (GarmentFormatException problem)
        {
            error.WriteLine($"no garment can be made of it: {problem.Message}");
        }
        return CommandLine.Refused;
    }

    private static void Say(PhotoReading reading, TextWriter output)
    {
        var (scale, light) = (reading.Scale, reading.Light);
        output.WriteLine(
            $"scale {scale.PixelsPerMm:0.000} px/mm{(scale.DisagreementPercent is { } apart ? $", tapes disagree by {apart:0.0} %" : ", one tape")}"
        );
        output.WriteLine(
            $"ground Lab {light.Ground.L:0.0} {light.Ground.A:0.0} {light.Ground.B:0.0} as photographed, not measured"
        );
        output.WriteLine(
            $"{100 * light.FlatShare:0} % of the cloth lies outside folds; a print moves by at most {reading.Folds.FurthestMm:0.0} mm with them"
        );
    }

    private static PhotoMarks Marks(Options given, int width, int height)
    {
        var tolerance = given.Value("--tolerance", "20");
        return new(
            Tape("--tape", given.Needed("--tape"), width, height),
            given.Value("--check", "") is { Length: > 0 } check ? Tape("--check", check, width, height) : null,
            Points("--seam", given.Needed("--seam"), 1, width, height)[0],
            Points("--down", given.Needed("--down"), 1, width, height)[0],
            Points("--area", given.Needed("--area"), null, width, height),
            tolerance == "none" ? null : given.Number("--tolerance", 1, 100) ?? PhotoMask.UsualTolerance
        );
    }

    private static PhotoTape Tape(string option, string text, int width, int height)
    {
        var cut = text.LastIndexOf(';');
        if (
            cut < 0
            || !double.TryParse(
                text[(cut + 1)..].Trim(),
                NumberStyles.AllowDecimalPoint,
                CultureInfo.InvariantCulture,
                out var mm
            )
        )
            throw Wrong($"{option} is two points and the mm between them, \"10 80; 60 80; 500\"; '{text}' given");
        var points = Points(option, text[..cut], 2, width, height, isTape: true);
        return new(points[0], points[1], mm);
    }

    private static ImmutableArray<PhotoPoint> Points(
        string option,
        string text,
        int? count,
        int width,
        int height,
        bool isTape = false
    )
    {
        if (PhotoPoints.Percent(text, out var wrong) is not { } points)
            throw Wrong($"{option}: '{wrong}' is no point; two numbers from 0 to 100 are");
        if (count is { } wanted && points.Length != wanted)
            throw Wrong($"{option} has {points.Length} points, {wanted} needed");
        return count is null && !isTape
            ? PhotoPoints.Area(points, width, height)
            : [.. points.Select(p => PhotoPoints.Pixels(p.X, p.Y, width, height))];
    }

    private static PhotographedGarment Garment(Options given, GarmentSide side, GarmentPhotograph photograph)
    {
        var name = given.Value("--name", "Photographed garment");
        var cloth = given.Value("--cloth", "jersey");
        return new(
            given.Value("--id", PhotographedGarment.Key(name)),
            name,
            given.Value("--size", "L"),
            side,
            given.Value("--colour", "As photographed"),
            Fibres(given.List("--fibres", "cotton:1")),
            OneOf("--cloth", cloth, [.. ClothKind.All.Select(k => (k.Id, k))]),
            given.Value("--lab", "") is { Length: > 0 } lab ? Lab(lab) : null,
            photograph
        );
    }

    private static ImmutableArray<FibreShare> Fibres(string[] words) =>
        [
            .. words.Select(word =>
                word.Split(':') is [var fibre, var share]
                && Enum.TryParse<FibreKind>(fibre, ignoreCase: true, out var kind)
                && double.TryParse(share, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var of)
                    ? new FibreShare(kind, of)
                    : throw new UsageProblem($"--fibres: '{word}' is not understood", "write cotton:0.5,polyester:0.5")
            ),
        ];

    private static Lab Lab(string text)
    {
        var numbers = text.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries);
        return
            numbers.Length == 3
            && double.TryParse(numbers[0], CultureInfo.InvariantCulture, out var l)
            && double.TryParse(numbers[1], CultureInfo.InvariantCulture, out var a)
            && double.TryParse(numbers[2], CultureInfo.InvariantCulture, out var b)
            ? new(l, a, b)
            : throw Wrong($"--lab is three numbers, L a b; '{text}' given");
    }

    private static UsageProblem Wrong(string what) => new(what, "'proofdesk photo-garment --help' lists the options");

    private static T OneOf<T>(string option, string word, params (string Word, T Value)[] words)
    {
        foreach (var (known, value) in words)
            if (known == word)
                return value;
        throw Wrong($"{option} is one of {string.Join(", ", words.Select(w => w.Word))}; '{word}' given");
    }
}
