using Microsoft.EntityFrameworkCore;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Adapters.Database;

/// <summary>What is looked for among the orders.</summary>
/// <param name="Find">
/// an order's number, words of its title or client in any case, the start of a digest (of a version, of a file it binds, of what
/// somebody signed), or the whole line of a film's label; empty for all
/// </param>
/// <param name="From">in hands on this day or later</param>
/// <param name="To">in hands on this day or earlier</param>
public sealed record OrderWish(string Find = "", DateOnly? From = null, DateOnly? To = null)
{
    public bool IsSearch => Find.Length > 0 || From is not null || To is not null;

    /// <summary>Shorter starts of a digest fit too much to find anything.</summary>
    public const int LeastDigest = 4;

    // Both engines translate ToLower() and StartsWith(text); neither translates the forms the analyser asks for.
#pragma warning disable CA1304, CA1310, CA1311, CA1862
    /// <summary>Orders that fit.</summary>
    public IQueryable<Order> Among(OfficeDb db)
    {
        var orders = db.Orders.AsNoTracking();
        if (From is { } from)
        {
            orders = orders.Where(row => row.InHandsDate >= from);
        }
        if (To is { } to)
        {
            orders = orders.Where(row => row.InHandsDate <= to);
        }
        var find = Find.Trim();
        if (find.Length == 0)
        {
            return orders;
        }
        if (FilmCode.Parse(find) is { } code)
        {
            return orders.Where(row => row.Number.ToString() == code.Order);
        }
        var words = find.ToLowerInvariant();
        var digits = words.Replace(" ", "", StringComparison.Ordinal).Replace("-", "", StringComparison.Ordinal);
        if (digits.Length < LeastDigest || digits.Length > 64 || !digits.All(char.IsAsciiHexDigitLower))
        {
            return orders.Where(row =>
                row.Number.ToString() == words
                || row.Title.ToLower().Contains(words)
                || row.Client!.Name.ToLower().Contains(words)
            );
        }
        return orders.Where(row =>
            row.Number.ToString() == words
            || row.Title.ToLower().Contains(words)
            || row.Client!.Name.ToLower().Contains(words)
            || row.Versions.Any(version =>
                version.ManifestSha256!.StartsWith(digits) || version.Files.Any(file => file.Sha256.StartsWith(digits))
            )
            || db.Decisions.Any(said => said.OrderId == row.Id && said.StatementSha256.StartsWith(digits))
        );
    }

#pragma warning restore CA1304, CA1310, CA1311, CA1862
}
