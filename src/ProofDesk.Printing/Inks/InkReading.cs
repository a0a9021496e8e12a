using System.Collections.Immutable;

namespace ProofDesk.Printing.Inks;

/// <summary>Something in a file or form that a person can mend.</summary>
/// <param name="Code">Stable, for tests and pages.</param>
/// <param name="Line">Line of the file, 0 when it is about the whole.</param>
/// <param name="Field">The field or keyword meant, empty when it is about the line.</param>
public sealed record InkProblem(string Code, string File, int Line, string Field, string What)
{
    /// <summary>"FILE(LINE): FIELD: WHAT".</summary>
    public override string ToString() =>
        File + (Line > 0 ? $"({Line})" : "") + (Field.Length > 0 ? $": {Field}: {What}" : $": {What}");
}

/// <summary>An ink made from what a shop gave, or everything that stands in its way.</summary>
/// <param name="Warnings">What was assumed or not used; nothing is passed over in silence.</param>
public sealed record InkReading(Ink? Ink, ImmutableArray<InkProblem> Problems, ImmutableArray<string> Warnings)
{
    public static InkReading Failed(params ImmutableArray<InkProblem> problems) => new(null, problems, []);
}
