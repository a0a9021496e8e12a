using System.Collections.Immutable;

namespace ProofDesk.Adapters.Sheets;

/// <summary>A compare sheet as it is drawn into one file: words and pictures only.</summary>
/// <param name="Words">What it shows and how it was made, below the title.</param>
/// <param name="Foot">What no picture of it can show.</param>
/// <param name="Finished">When its newest cell was made.</param>
public sealed record DrawnSheet(
    string Title,
    string Shop,
    string Words,
    string Foot,
    DateTimeOffset Finished,
    ImmutableArray<DrawnRow> Rows
);

/// <summary>One method with one number of inks.</summary>
public sealed record DrawnRow(string Title, string Words, ImmutableArray<DrawnTile> Tiles);

/// <summary>One cell.</summary>
/// <param name="Sha256">Its picture in the file store; null when there is none, and then the lines say why.</param>
/// <param name="Lines">What stands below it, one line each however long.</param>
public sealed record DrawnTile(string Title, string? Sha256, ImmutableArray<string> Lines);
