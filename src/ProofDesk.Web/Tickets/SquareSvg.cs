using System.Text;
using ProofDesk.Adapters.Codecs;

namespace ProofDesk.Web.Tickets;

/// <summary>A square code as one path of an SVG, a module one unit, with its quiet zone of four.</summary>
public sealed record SquareSvg(string Path, int Size)
{
    private const int Quiet = 4;

    public static SquareSvg Of(string text)
    {
        var modules = SquareCode.Of(text);
        var across = modules.GetLength(0);
        var path = new StringBuilder();
        for (var row = 0; row < across; row++)
        for (var column = 0; column < across; column++)
            if (modules[row, column])
                path.Append(FormattableString.Invariant($"M{column + Quiet} {row + Quiet}h1v1h-1z"));
        return new(path.ToString(), across + 2 * Quiet);
    }
}
