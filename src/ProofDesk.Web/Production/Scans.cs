using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Screening;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Records;

namespace ProofDesk.Web.Production;

/// <summary>What a square code was answered with.</summary>
/// <param name="IsGo">The screen may be burned.</param>
/// <param name="Head">Read from across the room.</param>
public sealed record ScanAnswer(bool IsGo, string Head, string Detail, Guid? OrderId = null, Guid? VersionId = null);

/// <summary>Says before a screen is burned whether its film is of the approved version that nothing has taken the place of.</summary>
public sealed class Scans(OfficeDb db, VersionReader versions, Releases releases)
{
    public async Task<ScanAnswer> OfAsync(string text, CancellationToken cancel)
    {
        if (FilmCode.Parse(text) is not { } code)
            return Foreign(
                "This is no square code of a film. Read the square in the label of the film, or type what it says."
            );
        if (
            !int.TryParse(code.Order, out var order)
            || !int.TryParse(code.Version, out var number)
            || await db
                .ProofVersions.AsNoTracking()
                .Where(v => v.Order!.Number == order && v.Number == number && v.ManifestSha256 != null)
                .Select(v => (Guid?)v.Id)
                .SingleOrDefaultAsync(cancel)
                is not { } id
        )
            return Foreign(
                $"There is no version {code.Version} of an order {code.Order} here. The film belongs to another shop or to a trial."
            );
        var read = (await versions.FindAsync(id, cancel))!;
        var print = read.Summary.Prints.FirstOrDefault(p =>
            string.Equals(p.Name, code.Print, StringComparison.OrdinalIgnoreCase)
        );
        var plate = print?.Plates.FirstOrDefault(p => p.Screen == code.Screen);
        if (print is null || plate is null || FilmCode.ShortOf(plate.Sha256) != code.Short)
            return Of(
                read,
                "STOP. Not the film that was approved",
                $"Version {number} of order {order} has no film {code.Print}, screen {code.Screen}, {code.Short}. Make the film again."
            );
        var film = $"{print.Name}, screen {plate.Screen} of {print.Plates.Length}: {plate.Ink}, mesh {plate.Mesh}.";
        return await releases.OfAsync(id, cancel) switch
        {
            Release.Free free => Of(
                read,
                $"Version {number}, approved by {free.By}, screen {plate.Screen} of {print.Plates.Length}",
                $"Order {order} {read.Order.Title}. {film} Approved on {Layout.Words.Moment(free.At)}.",
                isGo: true
            ),
            Release.Superseded newer => Of(
                read,
                $"STOP. Superseded: version {newer.By} is out",
                $"This film is of version {number} of order {order} {read.Order.Title}. {film} Do not burn it."
            ),
            Release.NotApproved => Of(read, "STOP. Not approved", Why(new Release.NotApproved())),
            Release.Held held => Of(read, "STOP. Production is held", Why(held)),
            var other => Of(read, "STOP. Not released", Why(other)),
        };

        string Why(Release release) =>
            $"Order {order} {read.Order.Title}. {film} {ReleaseWords.Refusal(release, number)}";
    }

    private static ScanAnswer Of(ReadVersion read, string head, string detail, bool isGo = false) =>
        new(isGo, head, detail, read.Version.OrderId, read.Version.Id);

    private static ScanAnswer Foreign(string detail) => new(false, "STOP. Not one of our films", detail);
}
