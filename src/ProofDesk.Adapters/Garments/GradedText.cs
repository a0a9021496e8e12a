using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Adapters.Garments;

/// <summary>
/// Reads the small language of garment drawings: a length is a sum such as "-0.5 chest + 12" (mm), a point is two
/// lengths with a comma, a path is a list of steps "M point", "L point", "C point; point; point" and "Z".
/// </summary>
internal static class GradedText
{
    /// <summary>In the order of <see cref="GradedLength"/>; a size gives each as "chestMm" and so on.</summary>
    public static readonly ImmutableArray<string> Measures =
    [
        "chest",
        "length",
        "shoulder",
        "sleeve",
        "collar",
        "dropFront",
        "dropBack",
    ];

    // Ten metres: no garment is longer, and what is not finite is no length.
    private const int MostMm = 10_000;

    public static GradedPath Path(IReadOnlyList<string> steps, string where, ImmutableArray<string> known)
    {
        GradedPoint? start = null;
        var current = default(GradedPoint);
        var points = ImmutableArray.CreateBuilder<GradedPoint>();
        var closed = false;
        for (var i = 0; i < steps.Count; i++)
        {
            var (step, at) = (steps[i].Trim(), $"{where}[{i}]");
            var command = step.Length == 0 ? ' ' : step[0];
            var given = step.Length > 1 ? step[1..].Split(';').Select(p => Point(p, at, known)).ToArray() : [];
            var wanted = command switch
            {
                'M' or 'L' => 1,
                'C' => 3,
                'Z' => 0,
                _ => throw new GarmentFormatException(
                    at,
                    $"step \"{step}\" starts with '{command}', one of M, L, C, Z is needed"
                ),
            };
            if (given.Length != wanted)
                throw new GarmentFormatException(at, $"step {command} takes {wanted} points, {given.Length} given");
            if (command != 'M' && start is null)
                throw new GarmentFormatException(at, "a path starts with M");
            switch (command)
            {
                case 'M' when start is null:
                    start = current = given[0];
                    break;
                case 'M':
                    throw new GarmentFormatException(at, "a path has one M; write a second path instead");
                case 'L':
                    points.Add(Between(current, given[0], 1.0 / 3));
                    points.Add(Between(current, given[0], 2.0 / 3));
                    points.Add(current = given[0]);
                    break;
                case 'C':
                    points.AddRange(given);
                    current = given[2];
                    break;
                default:
                    closed = true;
                    break;
            }
        }
        return new GradedPath(
            start ?? throw new GarmentFormatException(where, "the path is empty"),
            points.ToImmutable(),
            closed
        );
    }

    public static GradedPoint Point(string text, string where, ImmutableArray<string> known)
    {
        var parts = text.Split(',');
        return parts.Length == 2
            ? new GradedPoint(Length(parts[0], where, known), Length(parts[1], where, known))
            : throw new GarmentFormatException(
                where,
                $"point \"{text.Trim()}\" needs two lengths with a comma between them"
            );
    }

    public static GradedLength Length(string text, string where, ImmutableArray<string> known)
    {
        var sums = new double[Measures.Length + 1];
        var words = text.Replace("+", " + ", StringComparison.Ordinal)
            .Split(' ', StringSplitOptions.RemoveEmptyEntries);
        var sign = 1.0;
        var coefficient = double.NaN;
        var measured = false;
        foreach (var word in words)
        {
            if (word is "+" or "-")
            {
                Settle();
                sign = word == "-" ? -1 : 1;
            }
            else if (double.TryParse(word, NumberStyles.Float, CultureInfo.InvariantCulture, out var number))
            {
                if (!(Math.Abs(number) <= MostMm))
                    throw new GarmentFormatException(where, $"\"{word}\" is outside -{MostMm} to {MostMm}");
                coefficient = number;
            }
            else
            {
                var measure = Measures.IndexOf(word);
                if (measure < 0)
                    throw new GarmentFormatException(
                        where,
                        $"\"{word}\" is no measure; known are {string.Join(", ", known)}"
                    );
                if (!known.Contains(word))
                    throw new GarmentFormatException(
                        where,
                        $"\"{word}\" is used, but not every size has a {word}Mm; add it to the sizes"
                    );
                sums[measure + 1] += sign * (double.IsNaN(coefficient) ? 1 : coefficient);
                (sign, coefficient, measured) = (1, double.NaN, true);
            }
        }
        Settle();
        return measured || words.Length > 0
            ? new GradedLength(sums[0], sums[1], sums[2], sums[3], sums[4], sums[5], sums[6], sums[7])
            : throw new GarmentFormatException(where, "an empty length");

        void Settle()
        {
            if (!double.IsNaN(coefficient))
                sums[0] += sign * coefficient;
            (sign, coefficient) = (1, double.NaN);
        }
    }

    private static GradedPoint Between(GradedPoint a, GradedPoint b, double t) =>
        new(Between(a.X, b.X, t), Between(a.Y, b.Y, t));

    private static GradedLength Between(GradedLength a, GradedLength b, double t) =>
        new(
            a.Mm + t * (b.Mm - a.Mm),
            a.Chest + t * (b.Chest - a.Chest),
            a.Length + t * (b.Length - a.Length),
            a.Shoulder + t * (b.Shoulder - a.Shoulder),
            a.Sleeve + t * (b.Sleeve - a.Sleeve),
            a.Collar + t * (b.Collar - a.Collar),
            a.DropFront + t * (b.DropFront - a.DropFront),
            a.DropBack + t * (b.DropBack - a.DropBack)
        );
}
