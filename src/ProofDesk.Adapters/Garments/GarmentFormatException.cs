namespace ProofDesk.Adapters.Garments;

/// <summary>A garment file that cannot be read: which field, and what is wrong with it.</summary>
public sealed class GarmentFormatException(string field, string problem) : Exception($"{field}: {problem}")
{
    /// <summary>Path of the field in the file, e.g. "views[0].pieces[4].outline[2]".</summary>
    public string Field { get; } = field;
}
