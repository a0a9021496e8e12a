using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Web.Security;

namespace ProofDesk.Web.Inks;

/// <summary>Between the page and the ink: makes the definition, and puts each problem at the field it is in.</summary>
internal static class InkForms
{
    private const long MostBytes = 1_000_000;

    /// <param name="before">The version that is changed: its measurement stays when no other is given.</param>
    /// <returns>Null when something has to be mended first.</returns>
    public static async Task<InkDefinition?> ReadAsync(
        string key,
        InkForm form,
        InkDefinition? before,
        ModelStateDictionary state,
        CancellationToken cancel
    )
    {
        var measurement = await MeasurementAsync(form, state, cancel);
        var lab = Three("L", form.L, form.A, form.B, state);
        var definition = new InkDefinition(
            key,
            form.Name.Trim(),
            Word(form.Kind, nameof(form.Kind), InkDefinition.Kinds.Select(k => (InkDefinition.Word(k), k)), state),
            Word(form.Role, nameof(form.Role), Words<InkRole>(), state)
        )
        {
            Measurement = measurement ?? (lab is null ? before?.Measurement : null),
            Solid = measurement is null && lab is { } solid ? new(solid, LightOf(form.Light, state), form.Mesh) : null,
            VolumeSolids = form.SolidsPercent / 100,
            DensityGramsPerCm3 = form.Density,
            Formula = FormulaOf(form.Formula, state),
            Target = Three("TargetL", form.TargetL, form.TargetA, form.TargetB, state) is { } wanted
                ? new(wanted, form.Tolerance ?? 2, LightOf(form.TargetLight, state))
                : null,
        };
        if (!state.IsValid)
            return null;
        foreach (var problem in definition.Make("form").Problems)
            state.AddModelError(FieldOf(problem), Text(problem));
        return state.IsValid ? definition : null;
    }

    /// <summary>What the page shows of an ink that is there.</summary>
    public static InkForm Of(ShopInk ink)
    {
        var (i, solid, target) = (ink.Definition, ink.Definition.Solid, ink.Definition.Target);
        return new()
        {
            Seen = ink.Row.Version,
            Name = i.Name,
            Kind = InkDefinition.Word(i.Kind),
            Role = i.Role.ToString().ToLowerInvariant(),
            L = solid?.Lab.L,
            A = solid?.Lab.A,
            B = solid?.Lab.B,
            Light = solid?.Light.ToString() ?? "D50",
            Mesh = solid?.Mesh ?? InkFileText.UsualMesh,
            SolidsPercent = 100 * i.VolumeSolids,
            Density = i.DensityGramsPerCm3,
            Formula = i.Formula is { } formula
                ? string.Join('\n', formula.Parts.Select(p => $"{p.Name} {InkForm.Number(p.GramsPerKg)}"))
                : null,
            TargetL = target?.Lab.L,
            TargetA = target?.Lab.A,
            TargetB = target?.Lab.B,
            Tolerance = target?.ToleranceDe00,
            TargetLight = target?.Light.ToString() ?? "D50",
        };
    }

    /// <summary>"Harbour red No. 2" is "harbour-red-no-2".</summary>
    public static string KeyOf(string name)
    {
        var key = new StringBuilder();
        foreach (var c in name.Trim().ToLowerInvariant())
            if (char.IsAsciiLetterOrDigit(c))
                key.Append(c);
            else if (key.Length > 0 && key[^1] != '-')
                key.Append('-');
        return key.ToString().TrimEnd('-') is { Length: > 0 } plain ? plain[..Math.Min(60, plain.Length)] : "";
    }

    private static async Task<MeasurementText?> MeasurementAsync(
        InkForm form,
        ModelStateDictionary state,
        CancellationToken cancel
    )
    {
        if (form.Measurement is not { } file)
            return null;
        if (file.Length is 0 or > MostBytes)
        {
            state.AddModelError(
                nameof(form.Measurement),
                file.Length == 0
                    ? "The measurement file is empty."
                    : $"The measurement file has {file.Length / 1e6:0.0} MB; a measurement is text of at most 1 MB."
            );
            return null;
        }
        using var reader = new StreamReader(file.OpenReadStream(), Encoding.UTF8);
        return new(PlainText.FileName(file.FileName), await reader.ReadToEndAsync(cancel));
    }

    private static Lab? Three(string field, double? l, double? a, double? b, ModelStateDictionary state)
    {
        if (l is { } x && a is { } y && b is { } z)
            return new(x, y, z);
        if (l is not null || a is not null || b is not null)
            state.AddModelError(field, "A colour needs all three: L*, a* and b*.");
        return null;
    }

    private static InkFormula? FormulaOf(string? text, ModelStateDictionary state)
    {
        var parts = ImmutableArray.CreateBuilder<FormulaPart>();
        var lines = (text ?? "").Split('\n', StringSplitOptions.TrimEntries);
        for (var i = 0; i < lines.Length; i++)
        {
            if (lines[i].Length == 0)
                continue;
            var line = lines[i].Replace(" %", "%", StringComparison.Ordinal).TrimEnd();
            var cut = line.LastIndexOfAny([' ', '\t', ';']);
            var amount = cut < 0 ? "" : line[(cut + 1)..].TrimEnd('%');
            if (
                cut > 0
                && double.TryParse(amount, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            )
                parts.Add(new(line[..cut].TrimEnd(' ', ';', '\t'), line.EndsWith('%') ? 10 * number : number));
            else
                state.AddModelError(
                    nameof(InkForm.Formula),
                    $"Formula, line {i + 1}: \"{lines[i]}\" does not end with an amount; write the part and its g/kg, such as Red paste 180, or its share, such as Red paste 18 %."
                );
        }
        return parts.Count == 0 ? null : new(parts.ToImmutable());
    }

    private static T Word<T>(
        string word,
        string field,
        IEnumerable<(string Word, T Value)> words,
        ModelStateDictionary state
    )
        where T : struct
    {
        foreach (var (known, value) in words)
            if (known == word)
                return value;
        state.AddModelError(field, "Choose one of the list.");
        return default;
    }

    private static IEnumerable<(string, T)> Words<T>()
        where T : struct, Enum => Enum.GetValues<T>().Select(value => (value.ToString().ToLowerInvariant(), value));

    private static ViewingLight LightOf(string word, ModelStateDictionary state) =>
        Word(
            word,
            nameof(InkForm.Light),
            Enum.GetValues<ViewingLight>().Select(light => (light.ToString(), light)),
            state
        );

    private static string FieldOf(InkProblem problem) =>
        problem.File != "form"
            ? nameof(InkForm.Measurement)
            : problem.Field switch
            {
                "id" or "name" => nameof(InkForm.Name),
                "kind" => nameof(InkForm.Kind),
                "lab" => nameof(InkForm.L),
                "mesh" => nameof(InkForm.Mesh),
                "volumeSolids" => nameof(InkForm.SolidsPercent),
                "densityGramsPerCm3" => nameof(InkForm.Density),
                "formula" => nameof(InkForm.Formula),
                "target.lab" => nameof(InkForm.TargetL),
                "target.tolerance" => nameof(InkForm.Tolerance),
                _ => nameof(InkForm.Measurement),
            };

    // A file's problem keeps its file, line and field; a form's is at its field already.
    private static string Text(InkProblem problem)
    {
        var text = problem.File == "form" ? problem.What : problem.ToString();
        return (problem.File == "form" ? char.ToUpperInvariant(text[0]) + text[1..] : text) + ".";
    }
}
