using System.Collections.Immutable;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Versions;

/// <summary>One thing that differs, in words.</summary>
/// <param name="Where">the print or "Order"</param>
public sealed record VersionChange(string Where, string What, string From, string To);

/// <summary>What differs between two versions of an order in words, and the names of what was looked at and is alike.</summary>
public sealed record VersionChanges(ImmutableArray<VersionChange> Changed, ImmutableArray<string> Alike)
{
    private const string Nothing = "not there";

    public static VersionChanges Of(ReadVersion from, ReadVersion to, Garments garments) =>
        Of(from.Order, from.Summary, to.Order, to.Summary, (g, c) => GarmentName(garments, g, c));

    public static VersionChanges Of(
        ProofOrder before,
        ProofSummary beforeShown,
        ProofOrder after,
        ProofSummary afterShown,
        Func<string, string, string> garmentName
    )
    {
        var found = new Found();
        const string order = "Order";
        found.Look(order, "title", before.Title, after.Title);
        found.Look(order, "in hands", Words.Day(before.InHands), Words.Day(after.InHands));
        found.Look(order, "approve by", Words.Day(before.ApproveBy), Words.Day(after.ApproveBy));
        Garments(found, before, after, garmentName);
        foreach (var key in before.Prints.Concat(after.Prints).Select(p => p.Key).Distinct(StringComparer.Ordinal))
            Print(found, key, (before, beforeShown), (after, afterShown));
        return new([.. found.Changed], [.. found.Alike]);
    }

    private static void Garments(Found found, ProofOrder before, ProofOrder after, Func<string, string, string> name)
    {
        var lines = before
            .Lines.Concat(after.Lines)
            .Select(l => (l.GarmentId, l.ColourId))
            .Distinct()
            .Select(l => (Name: name(l.GarmentId, l.ColourId), From: Line(before, l), To: Line(after, l)))
            .ToList();
        foreach (var line in lines)
        {
            if (line.From is null || line.To is null)
            {
                found.Look("Garments", line.Name, Counts(line.From), Counts(line.To), "garments");
                continue;
            }
            found.Look("Garments", line.Name, "", "", "garments");
            found.Look("Counts", line.Name, Counts(line.From), Counts(line.To), "counts");
        }
    }

    private static ProofOrderLine? Line(ProofOrder order, (string Garment, string Colour) of) =>
        order.Lines.FirstOrDefault(l => l.GarmentId == of.Garment && l.ColourId == of.Colour);

    private static string Counts(ProofOrderLine? line) =>
        line is null
            ? Nothing
            : $"{Words.Count(line.Pieces, "piece", "pieces")}: {string.Join(", ", line.Counts.Where(c => c.Count > 0).Select(c => $"{c.Size} {c.Count}"))}";

    private static void Print(
        Found found,
        string key,
        (ProofOrder Order, ProofSummary Shown) before,
        (ProofOrder Order, ProofSummary Shown) after
    )
    {
        var (from, to) = (
            before.Order.Prints.FirstOrDefault(p => p.Key == key),
            after.Order.Prints.FirstOrDefault(p => p.Key == key)
        );
        if (from is null || to is null)
        {
            var name = (from ?? to)!.Name;
            found.Look(name, "print", from is null ? Nothing : "there", to is null ? Nothing : "there", "prints");
            return;
        }
        found.Look(to.Name, "print", "", "", "prints");
        var (shownFrom, shownTo) = (
            before.Shown.Prints.First(p => p.Key == key),
            after.Shown.Prints.First(p => p.Key == key)
        );
        var where = to.Name;
        found.Look(where, "name", from.Name, to.Name);
        found.Look(where, "art", Art(from), Art(to));
        found.Look(where, "size", Size(shownFrom), Size(shownTo));
        found.Look(where, "placement", Placement(shownFrom), Placement(shownTo));
        found.Look(where, "method", shownFrom.Method, shownTo.Method);
        found.Look(where, "background", Chosen(from.Background), Chosen(to.Background));
        found.Look(where, "under the colours", Base(from), Base(to));
        found.Look(where, "words", Said(from), Said(to));
        found.Look(where, "press", shownFrom.Press ?? "", shownTo.Press ?? "");
        found.Look(where, "device", shownFrom.Device ?? "", shownTo.Device ?? "");
        found.Look(where, "images on each screen", shownFrom.Images ?? "one", shownTo.Images ?? "one");
        Screens(found, where, shownFrom, shownTo);
    }

    /// <summary>Screens are paired by the name of their plate, a second of one name with a second.</summary>
    private static void Screens(Found found, string where, PrintSummary from, PrintSummary to)
    {
        var (before, after) = (Named(from), Named(to));
        var names = before.Keys.Concat(after.Keys).Distinct(StringComparer.Ordinal).ToList();
        foreach (var name in names)
        {
            var (a, b) = (before.GetValueOrDefault(name), after.GetValueOrDefault(name));
            if (a is null || b is null)
            {
                found.Look(where, $"screen {name}", Whole(a), Whole(b), "number of screens");
                continue;
            }
            found.Look(where, $"screen {name}", "", "", "number of screens");
            found.Look(where, $"screen {name}: place in the print order", $"{a.Screen}", $"{b.Screen}", "print order");
            found.Look(where, $"screen {name}: ink", a.Ink, b.Ink, "inks");
            found.Look(where, $"screen {name}: mesh", a.Mesh, b.Mesh, "meshes");
            found.Look(where, $"screen {name}: dots", Dots(a), Dots(b), "dots");
            found.Look(where, $"screen {name}: strokes", Strokes(a), Strokes(b), "strokes and flash");
            found.Look(where, $"screen {name}: by hand", a.ByHand ?? "no", b.ByHand ?? "no", "work by hand");
            found.Look(where, $"screen {name}: coverage", Coverage(a), Coverage(b), "coverage");
        }
    }

    private static Dictionary<string, PlateSummary> Named(PrintSummary print)
    {
        var named = new Dictionary<string, PlateSummary>(StringComparer.Ordinal);
        foreach (var plate in print.Plates)
        {
            var name = plate.Name;
            for (var more = 2; !named.TryAdd(name, plate); more++)
                name = $"{plate.Name} {more}";
        }
        return named;
    }

    private static string Whole(PlateSummary? plate) =>
        plate is null ? Nothing : $"{plate.Ink} on {plate.Mesh}, {Dots(plate)}, {Strokes(plate)}";

    private static string Dots(PlateSummary plate) =>
        plate.LinesPerInch is { } lpi
            ? FormattableString.Invariant($"{lpi:0.#} lpi, {plate.AngleDegrees:0.#}°, {plate.DotShape}")
            : "line art";

    private static string Strokes(PlateSummary plate) =>
        Words.Count(plate.Strokes, "stroke", "strokes") + (plate.Flash ? ", flash" : "");

    // Less than half a per cent is not worth a line.
    private static string Coverage(PlateSummary plate) => FormattableString.Invariant($"{plate.CoveragePercent:0} %");

    private static string Size(PrintSummary print) =>
        $"{Words.Length(print.WidthMm)} wide, {Words.Length(print.HeightMm)} high";

    private static string Placement(PrintSummary print) =>
        $"{print.Place}, {Words.Length(print.FromSeamMm)} from the seam, "
        + (
            print.FromCentreMm == 0
                ? "centred"
                : $"{Words.Length(Math.Abs(print.FromCentreMm))} to the wearer's {(print.FromCentreMm > 0 ? "left" : "right")}"
        );

    private static string Art(ProofOrderPrint print) => $"{print.ArtFileName} ({Words.Digest(print.ArtSha256[..8])})";

    private static string Chosen(string background) =>
        background switch
        {
            "drop" => "dropped",
            "print" => "printed",
            _ => "not asked",
        };

    private static string Base(ProofOrderPrint print) =>
        new PressChoice(print.Base, print.BlockingBase, print.Press).UnderWords;

    private static string Said(ProofOrderPrint print) =>
        print.Words.IsDefaultOrEmpty ? "none" : string.Join(" / ", print.Words);

    private static string GarmentName(Garments garments, string garment, string colour) =>
        garments.Find(garment, colour) is { } ground
            ? $"{ground.Garment.Name}, {ground.Colour.Name}"
            : $"{garment}, {colour}";

    private sealed class Found
    {
        private readonly List<string> looked = [];
        private readonly HashSet<string> differs = [];

        public List<VersionChange> Changed { get; } = [];

        public IEnumerable<string> Alike =>
            looked.Distinct(StringComparer.Ordinal).Where(name => !differs.Contains(name));

        /// <param name="name">under which it is said to be alike; what it is when null</param>
        public void Look(string where, string what, string from, string to, string? name = null)
        {
            looked.Add(name ?? what);
            if (from == to)
                return;
            differs.Add(name ?? what);
            Changed.Add(new(where, what, from, to));
        }
    }
}
