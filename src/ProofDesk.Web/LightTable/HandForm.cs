namespace ProofDesk.Web.LightTable;

/// <summary>
/// What the light table sends: every field as it was typed, so that a page that comes back has lost nothing.
/// </summary>
public sealed class HandForm
{
    /// <summary>Every film of the print, in <see cref="PutBack"/>.</summary>
    public const string All = "*";

    /// <summary>The order as it was when the page was made.</summary>
    public long RowVersion { get; set; }

    public List<FilmForm> Films { get; set; } = [];

    /// <summary>Name of the plate that is put back to as made, or <see cref="All"/>.</summary>
    public string? PutBack { get; set; }
}

/// <summary>One film's fields; an empty field leaves the film as it was made.</summary>
public sealed class FilmForm
{
    public string Plate { get; set; } = "";

    /// <summary>Percent written where the made film has 0, 10, ... 100 %.</summary>
    public List<string?> Wedge { get; set; } = [];
    public string? Spread { get; set; }
    public string? Angle { get; set; }
    public string? Ruling { get; set; }
    public string? Dot { get; set; }
    public string? Mesh { get; set; }
    public string? Weak { get; set; }
    public string? Strokes { get; set; }
    public string? Flash { get; set; }
    public List<BoxForm> KeepOut { get; set; } = [];
}

/// <summary>A rectangle that the base keeps out of, mm from the top left corner of the inked extent.</summary>
public sealed class BoxForm
{
    public string? Left { get; set; }
    public string? Top { get; set; }
    public string? Width { get; set; }
    public string? Height { get; set; }

    public string?[] All => [Left, Top, Width, Height];

    public bool IsEmpty => Array.TrueForAll(All, string.IsNullOrWhiteSpace);
}
