using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Which ink prints each colour of the art: a listed one, the library's when it comes near enough, otherwise an ink to be
/// mixed to match. Judged as a printed solid on the ground that is hardest to print on.
/// </summary>
internal sealed class InkAssignment(
    PrintMethod method,
    ImmutableArray<Ground> grounds,
    SpotSettings settings,
    Appearance appearance,
    Mesh mesh
)
{
    /// <summary>A library ink this near (CIEDE2000) is taken from the shelf; a client sees no difference on cloth.</summary>
    private const double FromTheShelf = 3;

    /// <summary>
    /// A mixture begins from the pigments of an ink near the colour. The nearest is not always the one whose pigments go
    /// furthest towards it, so the next ones are tried while the mixture misses.
    /// </summary>
    private const int FamiliesTried = 4;

    /// <summary>A mixture this near (CIEDE2000) is good enough.</summary>
    private const double Matched = 1;

    public ImmutableArray<ArtInk> Assign(ImmutableArray<PaletteColour> palette)
    {
        var cloths = grounds.Select(appearance.Cloth).ToArray();
        var wanted = palette.Select(c => Srgb.ToLab(c.Linear)).ToArray();
        var prints = palette.Select((c, i) => Prints(c, wanted[i], cloths)).ToArray();
        var hardest = Hardest(palette, wanted, prints);
        var anyWants = wanted.Any(lab => GainsFromBase(hardest, lab));
        var chosen = palette.Select((c, i) => (Ink: Choose(c, wanted[i], hardest, anyWants), Colour: i)).ToArray();
        Fix(chosen, wanted, prints, hardest, anyWants);
        var names = new PlateNames();
        return
        [
            .. chosen
                .GroupBy(c => c.Ink.Id)
                .Select(group =>
                {
                    var colours = group
                        .Select(g => g.Colour)
                        .OrderByDescending(i => palette[i].Weight)
                        .ToImmutableArray();
                    var ink = group.First().Ink;
                    // Colours that share an ink print where any of them does; each ground then knocks out by colour.
                    var there = prints[colours[0]];
                    var gain = grounds
                        .Select((g, i) => there[i] ? Gain(g, ink, wanted[colours[0]]) : 0)
                        .ToImmutableArray();
                    return new ArtInk(
                        ink,
                        names.Take(
                            ink.Id.StartsWith(AssumedInk.Prefix, StringComparison.Ordinal)
                                ? ColourNames.Of(wanted[colours[0]])
                                : ink.Name
                        ),
                        colours,
                        wanted[colours[0]],
                        colours.Sum(i => palette[i].Weight),
                        there,
                        gain,
                        [],
                        false
                    );
                }),
        ];
    }

    /// <summary>The ink of a colour alone, whatever the others are: for art that says itself what prints where.</summary>
    public Ink InkOf(PaletteColour colour)
    {
        var wanted = Srgb.ToLab(colour.Linear);
        var hardest = Hardest([colour], [wanted], [Prints(colour, wanted, [.. grounds.Select(appearance.Cloth)])]);
        return Choose(colour, wanted, hardest, GainsFromBase(hardest, wanted));
    }

    /// <summary>Each ink that must be used takes the colour that it comes nearest to among those that no other such ink has.</summary>
    private void Fix(
        (Ink Ink, int Colour)[] chosen,
        Lab[] wanted,
        ImmutableArray<bool>[] prints,
        Ground hardest,
        bool anyWants
    )
    {
        if (Rules.Must.IsEmpty)
            return;
        var free = Enumerable
            .Range(0, chosen.Length)
            .Where(i => prints[i].Contains(true) && !ClothShows.IsWhite(wanted[i]))
            .ToHashSet();
        free.RemoveWhere(i => Rules.Must.Any(must => must.Id == chosen[i].Ink.Id));
        foreach (var must in Rules.Must.Where(must => chosen.All(c => c.Ink.Id != must.Id)))
        {
            if (free.Count == 0)
                return;
            var nearest = free.MinBy(i =>
                Ciede2000.Difference(
                    appearance.Of(hardest, must, mesh, WantsBase(hardest, wanted[i], anyWants)),
                    wanted[i]
                )
            );
            free.Remove(nearest);
            chosen[nearest].Ink = must;
        }
    }

    private InkRules Rules => settings.Inks.Rules ?? InkRules.None;

    /// <summary>On which grounds a colour is printed and not left to the cloth.</summary>
    private ImmutableArray<bool> Prints(PaletteColour colour, Lab wanted, Lab[] cloths)
    {
        var prints = cloths.Select(cloth => !ClothShows.On(colour, wanted, cloth, settings)).ToImmutableArray();
        return settings.IsAlikeOnAllGrounds && prints.Contains(true) ? [.. prints.Select(_ => true)] : prints;
    }

    /// <summary>The ground on which the colours miss most without a base, by area.</summary>
    private Ground Hardest(ImmutableArray<PaletteColour> palette, Lab[] wanted, ImmutableArray<bool>[] prints)
    {
        if (grounds.Length == 1)
            return grounds[0];
        return grounds[
            Enumerable
                .Range(0, grounds.Length)
                .MaxBy(g =>
                    palette
                        .Select((c, i) => prints[i][g] ? c.Weight * Nearest(grounds[g], wanted[i], false).Off : 0)
                        .Sum()
                )
        ];
    }

    /// <summary>The ink of the art's white: the base's own, or the shelf's where a discharge base leaves nothing white.</summary>
    private Ink White =>
        appearance.BaseIsWhite || Library.IsEmpty
            ? appearance.BaseWhite.Ink
            : Library.FirstOrDefault(i => i.Role == InkRole.White) ?? appearance.BaseWhite.Ink;

    private double Gain(Ground ground, Ink ink, Lab wanted) =>
        ink.Role == InkRole.White && appearance.BaseIsWhite ? 0 : appearance.GainOfBase(ground, ink, mesh, wanted);

    private ImmutableArray<Ink> Shelf => settings.Inks.Inks.Length > 0 ? settings.Inks.Inks : Rules.Shelf(Library);

    /// <summary>Extra opaque inks are made for dark cloth without a base; on a base they only cost ink.</summary>
    private ImmutableArray<Ink> Library =>
        [
            .. InkLibrary
                .OfKind(method.ColourInk)
                .Where(i => settings.Base == BaseChoice.None || !i.Id.StartsWith("opaque-", StringComparison.Ordinal)),
        ];

    private bool Listed => settings.Inks.Inks.Length > 0 || settings.Inks.ExactColours.Length > 0;

    private Ink Choose(PaletteColour colour, Lab wanted, Ground ground, bool anyWants)
    {
        // The base screen prints the art's white as well, so white needs no place on a list.
        if (ClothShows.IsWhite(wanted) && (!Listed || settings.Base != BaseChoice.None))
            return Shelf.FirstOrDefault(i => Listed && i.Role == InkRole.White) ?? White;
        if (!Listed)
        {
            if (ClothShows.IsNearBlack(wanted) && Shelf.FirstOrDefault(i => i.Role == InkRole.Black) is { } black)
                return black;
        }
        var onBase = WantsBase(ground, wanted, anyWants);
        if (!Listed)
        {
            var (near, off) = Nearest(ground, wanted, onBase);
            return off <= FromTheShelf ? near : Mixed(colour.Hex, wanted, ground, onBase);
        }
        var exact = settings
            .Inks.ExactColours.Select(hex => (Hex: hex, Linear: ClothShows.Hex(hex)))
            .Where(e => e.Linear is not null)
            .Select(e => (e.Hex, Lab: Srgb.ToLab(e.Linear!.Value)))
            .OrderBy(e => Ciede2000.Difference(e.Lab, wanted))
            .FirstOrDefault();
        var (listed, listedOff) =
            settings.Inks.Inks.Length > 0
                ? Nearest(ground, wanted, onBase)
                : (appearance.BaseWhite.Ink, double.MaxValue);
        return exact.Hex is not null && Ciede2000.Difference(exact.Lab, wanted) < listedOff
            ? Mixed(exact.Hex, exact.Lab, ground, onBase)
            : listed;
    }

    /// <summary>
    /// Whether the ink for this colour is to be judged on a base: when a library ink gains from white under it, or when the
    /// job has a base anyway and the colour is not a dark one, which hides the base.
    /// </summary>
    private bool WantsBase(Ground ground, Lab wanted, bool anyWants) =>
        settings.Base is BaseChoice.White or BaseChoice.Discharge
        || settings.Base == BaseChoice.Auto && (GainsFromBase(ground, wanted) || anyWants && wanted.L > 30);

    private bool GainsFromBase(Ground ground, Lab wanted) =>
        settings.Base == BaseChoice.Auto
        && !ClothShows.IsWhite(wanted)
        && !ClothShows.IsNearBlack(wanted)
        && Nearest(ground, wanted, false).Off - Nearest(ground, wanted, true).Off > Appearance.WorthABase;

    private (Ink Ink, double Off) Nearest(Ground ground, Lab wanted, bool onBase)
    {
        var (best, least) = (Shelf.IsEmpty ? appearance.BaseWhite.Ink : Shelf[0], double.MaxValue);
        foreach (var ink in Shelf)
        {
            var printed =
                ink.Role == InkRole.White && onBase && appearance.BaseIsWhite
                    ? appearance.White(ground)
                    : appearance.Of(ground, ink, mesh, onBase);
            var off = Ciede2000.Difference(printed, wanted);
            if (off < least)
                (best, least) = (ink, off);
        }
        return (best, least);
    }

    private Ink Mixed(string hex, Lab wanted, Ground ground, bool onBase)
    {
        var shelf = Library;
        Ink[] near =
        [
            .. Rules
                .Shelf(shelf)
                .Where(i => i.Role == InkRole.Colour)
                .OrderBy(i => Ciede2000.Difference(appearance.Of(ground, i, mesh, onBase), wanted))
                .Take(FamiliesTried),
        ];
        if (near.Length == 0)
            return Shelf[0];
        var white = shelf.First(i => i.Role == InkRole.White);
        // On each other ground as the base decision will have it: with the base or without, whichever comes nearer.
        double Miss(Ground other, Ink ink) =>
            Math.Min(
                Ciede2000.Difference(appearance.Of(other, ink, mesh, false), wanted),
                onBase ? Ciede2000.Difference(appearance.Of(other, ink, mesh, true), wanted) : double.MaxValue
            );
        var others = grounds.Where(g => g != ground).ToArray();
        // A mixture that comes no nearer than the ink on the shelf is not mixed.
        var (best, least) = (near[0], Ciede2000.Difference(appearance.Of(ground, near[0], mesh, onBase), wanted));
        foreach (var family in near)
        {
            var mixed = AssumedInk.For(
                hex,
                $"{ColourNames.Of(wanted)} (to match {hex.ToUpperInvariant()})",
                wanted,
                family,
                white,
                ink => appearance.Of(ground, ink, mesh, onBase),
                ink => others.Length == 0 ? 0 : others.Average(other => Miss(other, ink))
            );
            var off = Ciede2000.Difference(appearance.Of(ground, mixed, mesh, onBase), wanted);
            if (off < least)
                (best, least) = (mixed, off);
            if (least < Matched)
                break;
        }
        return best;
    }
}
