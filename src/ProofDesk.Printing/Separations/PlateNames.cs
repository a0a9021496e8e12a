namespace ProofDesk.Printing.Separations;

/// <summary>Names of one job, each given once: a second "Red" is "Red 2". Case does not tell them apart.</summary>
/// <param name="taken">Names that are not given.</param>
internal sealed class PlateNames(params IEnumerable<string> taken)
{
    private readonly HashSet<string> _given = new(taken, StringComparer.OrdinalIgnoreCase);

    public string Take(string name)
    {
        var unique = name;
        for (var i = 2; !_given.Add(unique); i++)
            unique = $"{name} {i}";
        return unique;
    }
}
