using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace ProofDesk.Printing.Screening;

/// <summary>An output device as a file and as the desk keeps it: docs/films.md shows a whole one.</summary>
public sealed record DeviceRecord
{
    internal static JsonSerializerOptions Options { get; } =
        new(JsonSerializerDefaults.Web)
        {
            WriteIndented = true,
            NewLine = "\n",
            DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
            UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        };

    public const string Dots = "dots";
    public const string Tones = "tones";

    public string Name { get; init; } = "";
    public double XDpi { get; init; } = 1440;
    public double YDpi { get; init; } = 1440;

    /// <summary>"dots": we make them. "tones": the device does.</summary>
    public string HandOver { get; init; } = Dots;
    public bool Mirror { get; init; }
    public double? LargestWidthMm { get; init; }
    public double XStretchPercent { get; init; }
    public double YStretchPercent { get; init; }
    public double LeastDotUm { get; init; }

    /// <summary>What comes out where 0, 10, .. 100 % are asked.</summary>
    public ImmutableArray<double>? TonesPercent { get; init; }

    public FrameRecord? Frame { get; init; }

    public string ToJson() => JsonSerializer.Serialize(this, Options) + "\n";

    /// <param name="file">Its name, for messages.</param>
    /// <exception cref="RecordProblem">Not such a file, or a number in it that no device has.</exception>
    public static DeviceRecord Read(string json, string file)
    {
        var record = RecordProblem.Parse<DeviceRecord>(json, file, "a device");
        if (record.Problems().FirstOrDefault() is { } wrong)
            throw new RecordProblem($"{file}, field {Camel(wrong.Field)}: {wrong.What}", RecordProblem.Help);
        return record;
    }

    /// <summary>What is wrong with it, by field.</summary>
    public IEnumerable<FieldProblem> Problems()
    {
        if (string.IsNullOrWhiteSpace(Name) || Name.Length > 80)
            yield return new(nameof(Name), "a name of 1 to 80 characters is needed");
        if (FieldProblem.Outside(nameof(XDpi), XDpi, 300, 5080, "dpi") is { } x)
            yield return x;
        if (FieldProblem.Outside(nameof(YDpi), YDpi, 300, 5080, "dpi") is { } y)
            yield return y;
        if (HandOver is not Dots and not Tones)
            yield return new(nameof(HandOver), $"\"{HandOver}\" is given; it is \"{Dots}\" or \"{Tones}\"");
        if (
            LargestWidthMm is { } width
            && FieldProblem.Outside(nameof(LargestWidthMm), width, 100, 2000, "mm") is { } w
        )
            yield return w;
        if (FieldProblem.Outside(nameof(XStretchPercent), XStretchPercent, -2, 2, "%") is { } across)
            yield return across;
        if (FieldProblem.Outside(nameof(YStretchPercent), YStretchPercent, -2, 2, "%") is { } down)
            yield return down;
        if (FieldProblem.Outside(nameof(LeastDotUm), LeastDotUm, 0, 500, "um") is { } dot)
            yield return dot;
        if (TonesPercent is { IsDefault: false } tones && DeviceTones.Problem(tones) is { } wedge)
            yield return new(nameof(TonesPercent), wedge);
        foreach (var problem in Frame?.Problems() ?? [])
            yield return problem with
            {
                Field = $"{nameof(Frame)}.{problem.Field}",
            };
    }

    /// <summary>The device the films are made for.</summary>
    public OutputDevice Device() =>
        new OutputDevice(
            Name,
            XDpi,
            YDpi,
            HandOver == Tones ? Screening.HandOver.DotsTheirs : Screening.HandOver.DotsOurs,
            Mirror
        )
        {
            Frame = Frame?.Template() ?? FrameTemplate.Usual,
            LargestWidthMm = LargestWidthMm,
            LeastDotUm = LeastDotUm,
            Tones = TonesPercent is { IsDefault: false } tones ? new(tones) : null,
        }.Stretched(XStretchPercent, YStretchPercent);

    internal static string Camel(string field) =>
        string.Join('.', field.Split('.').Select(f => char.ToLowerInvariant(f[0]) + f[1..]));
}

/// <summary>A frame template as a file and as the desk keeps it.</summary>
public sealed record FrameRecord
{
    public string Name { get; init; } = "";
    public double ImageFromPalletEdgeMm { get; init; } = FrameTemplate.Usual.ImageFromPalletEdgeMm;
    public double MarkDistanceMm { get; init; } = FrameTemplate.Usual.MarkDistanceMm;
    public double MarkLineMm { get; init; } = FrameTemplate.Usual.MarkLineMm;
    public double MarkSizeMm { get; init; } = FrameTemplate.Usual.MarkSizeMm;
    public double SideMarginMm { get; init; } = FrameTemplate.Usual.SideMarginMm;
    public double LeastWidthMm { get; init; } = FrameTemplate.Usual.LeastWidthMm;
    public double? InnerWidthMm { get; init; }
    public double? InnerHeightMm { get; init; }

    public string ToJson() => JsonSerializer.Serialize(this, DeviceRecord.Options) + "\n";

    /// <param name="file">Its name, for messages.</param>
    /// <exception cref="RecordProblem">Not such a file, or a number in it that no frame has.</exception>
    public static FrameRecord Read(string json, string file)
    {
        var record = RecordProblem.Parse<FrameRecord>(json, file, "a frame template");
        if (record.Problems().FirstOrDefault() is { } wrong)
            throw new RecordProblem(
                $"{file}, field {DeviceRecord.Camel(wrong.Field)}: {wrong.What}",
                RecordProblem.Help
            );
        return record;
    }

    /// <summary>What is wrong with it, by field.</summary>
    public IEnumerable<FieldProblem> Problems()
    {
        if (string.IsNullOrWhiteSpace(Name) || Name.Length > 80)
            yield return new(nameof(Name), "a name of 1 to 80 characters is needed");
        (string Field, double? Value, double Least, double Most)[] limits =
        [
            (nameof(ImageFromPalletEdgeMm), ImageFromPalletEdgeMm, 20, 400),
            (
                nameof(MarkDistanceMm),
                MarkDistanceMm,
                FrameTemplate.LeastMarkDistanceMm,
                FrameTemplate.MostMarkDistanceMm
            ),
            (nameof(MarkLineMm), MarkLineMm, FrameTemplate.LeastMarkLineMm, FrameTemplate.MostMarkLineMm),
            (nameof(MarkSizeMm), MarkSizeMm, 6, 16),
            (nameof(SideMarginMm), SideMarginMm, 5, 60),
            (nameof(LeastWidthMm), LeastWidthMm, 140, 600),
            (nameof(InnerWidthMm), InnerWidthMm, 100, 2000),
            (nameof(InnerHeightMm), InnerHeightMm, 100, 2000),
        ];
        foreach (var (field, value, least, most) in limits)
            if (value is { } given && FieldProblem.Outside(field, given, least, most, "mm") is { } problem)
                yield return problem;
    }

    public FrameTemplate Template() =>
        new(MarkDistanceMm, MarkLineMm, MarkSizeMm, SideMarginMm, LeastWidthMm)
        {
            Name = Name,
            ImageFromPalletEdgeMm = ImageFromPalletEdgeMm,
            InnerWidthMm = InnerWidthMm,
            InnerHeightMm = InnerHeightMm,
        };
}

/// <summary>One field of a record that cannot be so.</summary>
public sealed record FieldProblem(string Field, string What)
{
    internal static FieldProblem? Outside(string field, double value, double least, double most, string unit) =>
        value >= least && value <= most
            ? null
            : new(
                field,
                FormattableString.Invariant($"{value:0.###} {unit} is given; {least:0.###} to {most:0.###} is possible")
            );
}

/// <summary>A file that is not the record it should be: what, and what to do.</summary>
public sealed class RecordProblem(string message, string nextStep) : Exception(message)
{
    internal const string Help = "docs/films.md shows a device and a frame template with all their fields";

    public string NextStep { get; } = nextStep;

    internal static T Parse<T>(string json, string file, string what)
        where T : class
    {
        try
        {
            return JsonSerializer.Deserialize<T>(json, DeviceRecord.Options)
                ?? throw new RecordProblem($"{file}: not {what}: it is empty", Help);
        }
        catch (JsonException e)
        {
            throw new RecordProblem(
                $"{file}, line {(e.LineNumber ?? 0) + 1}, field {e.Path ?? "$"}: not {what} that is understood",
                Help
            );
        }
    }
}
