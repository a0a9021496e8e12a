using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.TestForms;

/// <summary>A sheet of readings that cannot be understood: file, line, field, what is possible.</summary>
public sealed class ReadingSheetProblem(string what, string nextStep) : Exception(what)
{
    public string NextStep { get; } = nextStep;
}

/// <summary>
/// The reading sheet as text: JSON in which comments may stand. It names the form, so that nothing about it is typed twice;
/// what was not read is left out or null.
/// </summary>
public static class ReadingSheetJson
{
    private static JsonSerializerOptions Options { get; } =
        new(JsonSerializerDefaults.Web)
        {
            ReadCommentHandling = JsonCommentHandling.Skip,
            AllowTrailingCommas = true,
            UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
            RespectRequiredConstructorParameters = false,
            NumberHandling = JsonNumberHandling.Strict,
            Converters = { new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false) },
        };

    private sealed record Sheet(
        FormPart? Form,
        ImmutableArray<BlockReading>? Blocks,
        ImmutableArray<RegisterReading>? Register,
        ImmutableArray<WhiteReading>? Whites,
        ImmutableArray<SolidPart>? Solids,
        ImmutableArray<WeighedDeposit>? Weighed
    );

    private sealed record FormPart(
        string? Mesh,
        string? White,
        string[]? Colours,
        FormCloth Cloth,
        double? LinesPerInch,
        double? FilmDpi,
        string? Garment,
        string? Colour
    );

    private sealed record SolidPart(string Ink, FormUnder Under, double[] Lab, ReadBy By);

    /// <param name="file">Its name, for messages.</param>
    /// <param name="ground">Finds a garment and its colour, null when there is none.</param>
    /// <exception cref="ReadingSheetProblem">Not a reading sheet, or it names what is not there.</exception>
    public static PressReadings Read(string json, string file, Func<string, string, Ground?> ground)
    {
        Sheet sheet;
        try
        {
            sheet = JsonSerializer.Deserialize<Sheet>(json, Options) ?? throw new JsonException("nothing in it");
        }
        catch (JsonException e)
        {
            var line = (e.LineNumber ?? 0) + 1;
            throw new ReadingSheetProblem(
                $"{file}, line {line}, field {e.Path ?? "$"}: not a reading that is understood",
                "numbers with a point, texts in quotes, field names as on the blank sheet; proofdesk test-form writes one"
            );
        }
        if (sheet.Form is not { } form)
            throw new ReadingSheetProblem(
                $"{file}: the field form is missing",
                "start from the sheet that proofdesk test-form wrote"
            );
        var mesh =
            Meshes.Find(form.Mesh ?? "")
            ?? throw Unknown(file, "form.mesh", form.Mesh, Meshes.Default.Select(m => m.Label));
        Ink Ink(string field, string? id) =>
            InkLibrary.Find(id ?? "") ?? throw Unknown(file, field, id, InkLibrary.Default.Select(i => i.Id));
        var settings = new TestFormSettings(
            mesh,
            Ink("form.white", form.White ?? "white"),
            [.. (form.Colours ?? []).Select((id, i) => Ink($"form.colours[{i}]", id))],
            form.Cloth
        )
        {
            LinesPerInch = form.LinesPerInch,
        };
        if (form.FilmDpi is { } dpi)
            settings = settings with { Device = settings.Device with { XDpi = dpi, YDpi = dpi } };
        try
        {
            settings.Check();
        }
        catch (ArgumentException e)
        {
            throw new ReadingSheetProblem(
                $"{file}, form: {e.Message}",
                "start from the sheet that proofdesk test-form wrote"
            );
        }
        var on =
            ground(form.Garment ?? "", form.Colour ?? "")
            ?? throw new ReadingSheetProblem(
                $"{file}, form: there is no garment '{form.Garment}' in '{form.Colour}'",
                "proofdesk garments lists them"
            );
        return new(settings, on)
        {
            Blocks = sheet.Blocks ?? [],
            Register = sheet.Register ?? [],
            Whites = sheet.Whites ?? [],
            Solids =
            [
                .. (sheet.Solids ?? []).Select(
                    (s, i) =>
                        s.Lab is { Length: 3 }
                            ? new SolidReading(s.Ink, s.Under, new Lab(s.Lab[0], s.Lab[1], s.Lab[2]), s.By)
                            : throw new ReadingSheetProblem(
                                $"{file}, field solids[{i}].lab: three numbers L*, a*, b* are needed",
                                "for example [41.2, 60.5, 38.0]"
                            )
                ),
            ],
            Weighed = sheet.Weighed ?? [],
        };
    }

    /// <summary>The blank sheet of a form.</summary>
    public static string Blank(TestFormSettings form, Ground ground)
    {
        var text = new StringBuilder();
        var inks = form.Inks;
        text.AppendLine("{");
        text.AppendLine("  // what was printed; do not change it, print another form instead");
        text.AppendLine("  \"form\": {");
        text.AppendLine(
            CultureInfo.InvariantCulture,
            $"    \"mesh\": \"{form.Mesh.Label}\", \"white\": \"{form.White.Id}\", \"colours\": [{string.Join(", ", form.Colours.Select(c => $"\"{c.Id}\""))}],"
        );
        text.AppendLine(
            CultureInfo.InvariantCulture,
            $"    \"cloth\": \"{(form.Cloth == FormCloth.Dark ? "dark" : "pale")}\", \"linesPerInch\": {form.Ruling:0.###}, \"filmDpi\": {form.Device.XDpi:0.###},"
        );
        text.AppendLine(
            CultureInfo.InvariantCulture,
            $"    \"garment\": \"{ground.Garment.Id}\", \"colour\": \"{ground.Colour.Id}\""
        );
        text.AppendLine("  },");
        text.AppendLine(
            "  // growthUm: where the taper is half open, half closed, to half a mark, a line of its own for each sheet; first step with half its dots, last step with holes;"
        );
        text.AppendLine(
            "  // thinnest line and gap there over more than half their length; null = not read; by: eye or instrument"
        );
        text.AppendLine("  \"blocks\": [");
        foreach (var (plate, under) in form.Blocks)
            text.AppendLine(
                CultureInfo.InvariantCulture,
                $"    {{ \"ink\": \"{inks[plate].Id}\", \"under\": \"{(under == FormUnder.Base ? "base" : "cloth")}\", \"growthUm\": null, \"firstStepHeldPercent\": null, \"lastStepOpenPercent\": null, \"thinnestLineUm\": null, \"thinnestGapUm\": null, \"by\": \"eye\" }},"
            );
        text.AppendLine("  ],");
        text.AppendLine(
            "  // one line for each sheet, ink and corner; labels are hundredths of a millimetre: 25 is 0.25"
        );
        foreach (var plate in form.RegisteredPlates)
            text.AppendLine(
                CultureInfo.InvariantCulture,
                $"  // {{ \"sheet\": 1, \"run\": 1, \"pallet\": 1, \"ink\": \"{inks[plate].Id}\", \"corner\": \"top-left\", \"xMm\": 0.05, \"yMm\": -0.10, \"by\": \"eye\" }},"
            );
        text.AppendLine("  \"register\": [],");
        text.AppendLine("  // L* of the white solid: one-stroke, two-strokes, three-strokes, print-flash-print");
        text.AppendLine("  // { \"pass\": \"one-stroke\", \"lightness\": 79.5, \"by\": \"instrument\" },");
        text.AppendLine("  \"whites\": [],");
        text.AppendLine(
            "  // Lab D50 of solids, measured: { \"ink\": \"red\", \"under\": \"base\", \"lab\": [42, 62, 39], \"by\": \"instrument\" },"
        );
        text.AppendLine("  \"solids\": [],");
        text.AppendLine("  // wet ink of one stroke, weighed: { \"ink\": \"white\", \"gramsPerM2\": 48 },");
        text.AppendLine("  \"weighed\": []");
        text.AppendLine("}");
        return text.ToString().ReplaceLineEndings("\n");
    }

    private static ReadingSheetProblem Unknown(string file, string field, string? given, IEnumerable<string> known) =>
        new($"{file}, field {field}: '{given}' is not known", $"known are {string.Join(", ", known)}");
}
