using System.Globalization;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.ByHand;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.LightTable;

/// <summary>Between the fields of the page and the hand work of an order.</summary>
internal static class HandForms
{
    /// <summary>Rows for rectangles that are not there yet.</summary>
    private const int SpareBoxes = 2;

    public static HandForm Of(PrintSummary print, HandWork work, long rowVersion) =>
        FilledUp(
            new()
            {
                RowVersion = rowVersion,
                Films = [.. print.Plates.Select(p => Of(work.For(p.Name) ?? new PlateEdit(p.Name)))],
            },
            print
        );

    /// <summary>The form with a row for every film of the print, in print order, and spare rows for rectangles.</summary>
    public static HandForm FilledUp(HandForm form, PrintSummary print)
    {
        form.Films =
        [
            .. print.Plates.Select(p => form.Films.FirstOrDefault(f => f.Plate == p.Name) ?? Of(new PlateEdit(p.Name))),
        ];
        foreach (var film in form.Films)
        {
            for (var step = film.Wedge.Count; step < PlateEdit.WedgeSteps; step++)
                film.Wedge.Add(Number(10 * step));
            film.KeepOut.RemoveAll(box => box.IsEmpty);
            for (var spare = 0; spare < SpareBoxes; spare++)
                film.KeepOut.Add(new());
        }
        return form;
    }

    /// <summary>What the fields ask for; each problem stands in <paramref name="state"/> under its field.</summary>
    /// <param name="before">What the order asks for; hand work on films that are not on this table stays.</param>
    public static HandWork Read(HandForm form, PrintSummary print, HandWork? before, ModelStateDictionary state)
    {
        var edits = new List<PlateEdit>();
        for (var i = 0; i < form.Films.Count; i++)
        {
            var film = form.Films[i];
            if (form.PutBack == HandForm.All || form.PutBack == film.Plate)
                continue;
            if (print.Plates.FirstOrDefault(p => p.Name == film.Plate) is not { } plate)
                continue;
            var reader = new FilmReader(film, $"Films[{i}]", $"{plate.Screen}. {plate.Name}", state);
            if (reader.Read() is { IsUnchanged: false } edit)
                edits.Add(edit);
        }
        if (form.PutBack != HandForm.All && before is not null)
            edits.AddRange(before.Plates.Where(kept => !print.Plates.Any(p => p.Name == kept.Plate)));
        return new([.. edits]);
    }

    private static FilmForm Of(PlateEdit edit) =>
        new()
        {
            Plate = edit.Plate,
            Wedge =
            [
                .. Enumerable
                    .Range(0, PlateEdit.WedgeSteps)
                    .Select(i => Number(edit.Wedge.IsDefaultOrEmpty ? 10 * i : 100 * edit.Wedge[i])),
            ],
            Spread = edit.SpreadUm == 0 ? null : Number(edit.SpreadUm),
            Angle = edit.AngleDegrees is { } angle ? Number(angle) : null,
            Ruling = edit.LinesPerInch is { } lpi ? Number(lpi) : null,
            Dot = edit.Dot?.ToString(),
            Mesh = edit.Mesh,
            Weak = edit.WeakTones?.ToString(),
            Strokes = edit.Strokes?.ToString(CultureInfo.InvariantCulture),
            Flash = edit.FlashAfter switch
            {
                true => "yes",
                false => "no",
                null => null,
            },
            KeepOut =
            [
                .. (edit.KeepOut.IsDefaultOrEmpty ? [] : edit.KeepOut).Select(box => new BoxForm
                {
                    Left = Number(box.XMm),
                    Top = Number(box.YMm),
                    Width = Number(box.WidthMm),
                    Height = Number(box.HeightMm),
                }),
            ],
        };

    public static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    /// <summary>Reads the fields of one film and says beside each what is wrong with it.</summary>
    private sealed class FilmReader(FilmForm film, string key, string name, ModelStateDictionary state)
    {
        private bool _broken;

        /// <returns>Null when a field is not a number: then there is nothing to hold against the limits.</returns>
        public PlateEdit? Read()
        {
            var edit = new PlateEdit(film.Plate)
            {
                Wedge = Wedge(),
                SpreadUm =
                    Value(
                        film.Spread,
                        nameof(film.Spread),
                        "choke or spread",
                        "Type micrometres, such as 40, or -40 to choke; empty leaves the edges as made."
                    ) ?? 0,
                AngleDegrees = Value(
                    film.Angle,
                    nameof(film.Angle),
                    "angle",
                    "Type degrees from 0 to 180, such as 22.5; empty leaves it as made."
                ),
                LinesPerInch = Value(
                    film.Ruling,
                    nameof(film.Ruling),
                    "ruling",
                    "Type lines per inch, such as 45; empty leaves it as made."
                ),
                Dot = OneOf<DotShape>(film.Dot, nameof(film.Dot)),
                Mesh = string.IsNullOrWhiteSpace(film.Mesh) ? null : film.Mesh.Trim(),
                WeakTones = OneOf<WeakTones>(film.Weak, nameof(film.Weak)),
                Strokes = Strokes(),
                FlashAfter = film.Flash switch
                {
                    "yes" => true,
                    "no" => false,
                    _ => null,
                },
                KeepOut = [.. Boxes()],
            };
            if (_broken)
                return null;
            foreach (var problem in PlateEditChecks.Of(edit))
                Wrong(FieldOf(problem.Field), $"{problem.What}. {NextOf(problem.Field)}");
            return edit;
        }

        private System.Collections.Immutable.ImmutableArray<double> Wedge()
        {
            if (film.Wedge.Count == 0)
                return [];
            var steps = new double[PlateEdit.WedgeSteps];
            for (var i = 0; i < steps.Length; i++)
            {
                var typed = i < film.Wedge.Count ? film.Wedge[i] : null;
                // An emptied step is as made.
                var percent =
                    Value(
                        typed,
                        nameof(film.Wedge),
                        $"wedge at {10 * i} %",
                        "Type percent from 0 to 100; empty leaves the step as made."
                    )
                    ?? 10 * i;
                steps[i] = percent / 100;
            }
            return [.. steps];
        }

        private int? Strokes()
        {
            var next = "Type a whole number, such as 2; empty leaves it as made.";
            if (Value(film.Strokes, nameof(film.Strokes), "strokes", next) is not { } strokes)
                return null;
            if (strokes == Math.Floor(strokes) && Math.Abs(strokes) < 1000)
                return (int)strokes;
            Unreadable(nameof(film.Strokes), $"strokes \"{film.Strokes!.Trim()}\" is not a whole number. {next}");
            return null;
        }

        private IEnumerable<KeepOut> Boxes()
        {
            const string Next = "Type left, top, width and height in millimetres, or empty all four.";
            var at = 0;
            foreach (var box in film.KeepOut)
            {
                at++;
                if (box.IsEmpty)
                    continue;
                if (box.All.Any(string.IsNullOrWhiteSpace))
                {
                    Unreadable(nameof(film.KeepOut), $"rectangle {at} is not complete. {Next}");
                    continue;
                }
                var sides = box.All.Select(side => Value(side, nameof(film.KeepOut), $"rectangle {at}", Next)).ToList();
                if (sides.TrueForAll(side => side is not null))
                    yield return new(sides[0]!.Value, sides[1]!.Value, sides[2]!.Value, sides[3]!.Value);
            }
        }

        private double? Value(string? typed, string field, string what, string next)
        {
            if (string.IsNullOrWhiteSpace(typed))
                return null;
            var text = typed.Trim().Replace(',', '.').Replace('\u2212', '-');
            if (
                double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
                && double.IsFinite(value)
            )
                return value;
            Unreadable(field, $"{what} \"{typed.Trim()}\" is not a number. {next}");
            return null;
        }

        private T? OneOf<T>(string? typed, string field)
            where T : struct, Enum
        {
            if (string.IsNullOrEmpty(typed))
                return null;
            if (Enum.TryParse<T>(typed, out var value) && Enum.IsDefined(value))
                return value;
            Unreadable(field, $"\"{typed}\" is not in the list. Choose one of the list.");
            return null;
        }

        private static string FieldOf(string field) =>
            field switch
            {
                "wedgePercent" => nameof(FilmForm.Wedge),
                "spreadUm" => nameof(FilmForm.Spread),
                "angleDegrees" => nameof(FilmForm.Angle),
                "linesPerInch" => nameof(FilmForm.Ruling),
                "mesh" => nameof(FilmForm.Mesh),
                "strokes" => nameof(FilmForm.Strokes),
                "keepOut" => nameof(FilmForm.KeepOut),
                _ => "",
            };

        private static string NextOf(string field) =>
            field switch
            {
                "wedgePercent" => "Change that step, or put the wedge back.",
                "keepOut" => "Mend the rectangle, or empty its four fields.",
                _ => "Type a number within the limits, or empty the field to leave it as made.",
            };

        private void Unreadable(string field, string what)
        {
            _broken = true;
            Wrong(field, what);
        }

        private void Wrong(string field, string what) =>
            state.AddModelError(field.Length == 0 ? key : $"{key}.{field}", $"{name}: {what}");
    }
}
