using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Adapters.Renders;

/// <summary>Names of the pictures of one print on one ground inside a version.</summary>
public sealed record GroundPaths(string Folder, string Name)
{
    public static GroundPaths Of(string key, Ground ground) => new(key, $"{ground.Garment.Id}-{ground.Colour.Id}");

    public string Print => $"{Folder}/print-{Name}.png";
    public string Garment => $"{Folder}/garment-{Name}.png";

    /// <summary>Where the print cannot follow the art.</summary>
    public string Reach => $"{Folder}/reach-{Name}.png";

    public string Run => $"{Folder}/run-{Name}.png";

    public string End(Deposit deposit) => $"{Folder}/{deposit.ToString().ToLowerInvariant()}-{Name}.png";

    public string Head(int screens) => FormattableString.Invariant($"{Folder}/head-{screens:00}-{Name}.png");
}
