using System.Collections.Immutable;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Screening;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Production;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Records;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Tickets;

/// <summary>Puts the tickets of a version together from what is bound in it, what stands about it, and what production wrote down.</summary>
public sealed class TicketReader(
    OfficeDb db,
    VersionReader versions,
    Releases releases,
    Garments garments,
    TimeProvider time
)
{
    /// <summary>The size the placement is drawn on, where the garment has it.</summary>
    private const string DrawnSize = "L";

    public async Task<TicketSet?> FindAsync(Guid versionId, CancellationToken cancel)
    {
        if (await versions.FindAsync(versionId, cancel) is not { } read)
            return null;
        var release = await releases.OfAsync(versionId, cancel);
        return new(
            read,
            ReleaseWords.Refusal(release, read.Version.Number),
            release is Release.Free free ? $"{free.By}, {Words.Moment(free.At)}" : "",
            [
                .. read.Order.Lines.Select(l => new TicketLine(
                    garments.Find(l.GarmentId, l.ColourId) is { } g
                        ? $"{g.Garment.Name}, {g.Colour.Name}"
                        : $"{l.GarmentId}, {l.ColourId}",
                    string.Join("  ", l.Counts.Where(c => c.Count > 0).Select(c => $"{c.Size} {c.Count}")),
                    l.Pieces
                )),
            ],
            [.. read.Summary.Prints.Select(p => Of(read, p))],
            await BeforeAsync(read.Version, cancel),
            time.GetUtcNow()
        );
    }

    private Ticket Of(ReadVersion read, PrintSummary print)
    {
        var asked = read.Order.Prints.First(p => p.Key == print.Key);
        var drawn = read
            .Order.Lines.Select(l => garments.Find(l.GarmentId, l.ColourId)?.Garment)
            .FirstOrDefault(g => g?.Shape is not null);
        var first = print.Plates[0];
        return new(
            print,
            [.. Heads(print)],
            [.. print.Grounds.Select(g => $"{g.Garment}, {g.Colour}")],
            drawn is null
                ? null
                : TapeDrawing.Of(
                    drawn,
                    DrawnSize,
                    new Placement(asked.Place, print.FromSeamMm, print.FromCentreMm, print.WidthMm),
                    print.HeightMm
                ),
            drawn?.Name ?? "",
            new FilmCode(
                $"{read.Order.Number}",
                print.Name,
                $"{read.Version.Number}",
                first.Screen,
                FilmCode.ShortOf(first.Sha256)
            ).Text,
            [
                Words.Capital(print.Caution) + ".",
                .. print.Findings.Where(f => f.Weight == "warning").Select(f => $"{Words.Capital(f.Message)}."),
            ],
            print.Grounds[0].PrintPath
        );
    }

    /// <summary>The stations of the fullest press plan; without one the screens in their order.</summary>
    private static IEnumerable<TicketHead> Heads(PrintSummary print)
    {
        var plan = print.Grounds.Select(g => g.Press?.Plan ?? []).MaxBy(p => p.Length);
        if (plan.IsDefaultOrEmpty)
            return print.Plates.Select(p => Screen(print, p, null));
        return plan.Select(h =>
            h.Screen is { } screen && print.Plates.FirstOrDefault(p => p.Screen == screen) is { } plate
                ? Screen(print, plate, h.Head)
                : new TicketHead(h.Head, h.Task, null, "", "", "", "", "", 0, false, null, "", h.Text)
        );
    }

    private static TicketHead Screen(PrintSummary print, PlateSummary plate, int? head)
    {
        var runs = print
            .Grounds.Select(g => (Ground: g, Run: g.Runs.FirstOrDefault(r => r.Screen == plate.Screen)))
            .ToList();
        var running = runs.Where(r => r.Run is null or { Runs: true }).ToList();
        var inks = running.Select(r => r.Run?.Ink ?? plate.Ink).Distinct(StringComparer.Ordinal).ToList();
        var rows = print.Grounds.SelectMany(g => g.Inks).Where(i => i.Plate == plate.Name).ToList();
        return new(
            head,
            "print",
            plate.Screen,
            plate.Name,
            inks.Count == 0 ? plate.Ink : string.Join(" / ", inks),
            plate.Hex,
            plate.Mesh,
            plate.LinesPerInch is { } lpi
                ? FormattableString.Invariant($"{lpi:0} lpi {plate.AngleDegrees:0.#}° {plate.DotShape}")
                : "line art",
            running.Count == 0 ? plate.Strokes : running.Max(r => r.Run?.Strokes ?? plate.Strokes),
            running.Count == 0 ? plate.Flash : running.Any(r => r.Run?.Flash ?? plate.Flash),
            rows.Count == 0 ? null : rows.Max(r => r.GramsToMix),
            running.Count == runs.Count || runs.Count == 0
                ? ""
                : "only " + string.Join(", ", running.Select(r => r.Ground.Colour)),
            plate.ByHand ?? ""
        );
    }

    /// <summary>From the version itself when its films were on the press already, else from the one its order repeats.</summary>
    private async Task<TicketBefore?> BeforeAsync(ProofVersion version, CancellationToken cancel)
    {
        var from = new List<Guid> { version.Id };
        if (version.Order?.RepeatOfVersionId is { } repeated)
            from.Add(repeated);
        var rows = await db
            .LoggedEvents.AsNoTracking()
            .Where(e =>
                e.VersionId != null
                && from.Contains(e.VersionId.Value)
                && (e.Kind == EventKind.Finished || e.Kind == EventKind.Substituted || e.Kind == EventKind.PressChecked)
            )
            .OrderBy(e => e.LeafIndex)
            .ToListAsync(cancel);
        if (rows.Count == 0)
            return null;
        var finished = rows.LastOrDefault(e => e.Kind == EventKind.Finished);
        var facts = finished is null ? null : EventJson.Parse(finished.EventBytes).Facts;
        return new(
            rows[^1].At,
            Number(facts?.GetValueOrDefault("good")),
            Number(facts?.GetValueOrDefault("spoilt")),
            [
                .. rows.Where(e => e.Kind != EventKind.Finished)
                    .TakeLast(4)
                    .Select(e => Happened.Of(e, []))
                    .Select(e => $"{Words.Capital(e.What)}: {string.Join("; ", e.Said)}"),
            ]
        );
    }

    private static int? Number(string? text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
}
