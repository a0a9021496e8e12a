using System.Collections.Immutable;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>What the shop says about inks that are otherwise chosen for the art.</summary>
/// <param name="Must">Inks that print, whatever the art would need.</param>
/// <param name="Never">Identifiers of inks that stay on the shelf.</param>
/// <param name="Order">
/// Identifiers in print order, first printed first. Inks it does not name keep their places; the base stays first and a highlight
/// white last.
/// </param>
public sealed record InkRules(ImmutableArray<Ink> Must, ImmutableArray<string> Never, ImmutableArray<string> Order)
{
    public static InkRules None { get; } = new([], [], []);

    public bool IsEmpty => Must.IsEmpty && Never.IsEmpty && Order.IsEmpty;

    /// <summary>Whether an ink may be taken from the shelf.</summary>
    public bool Allows(Ink ink) => !Never.Contains(ink.Id);

    /// <summary>The shelf by these rules: without what is ruled out, with what must be used.</summary>
    public ImmutableArray<Ink> Shelf(IEnumerable<Ink> shelf) =>
        [.. shelf.Where(Allows).Concat(Must).DistinctBy(i => i.Id)];

    /// <summary>The places that the named ones take in the usual order are filled with them in the order that was named.</summary>
    public ImmutableArray<T> InOrder<T>(ImmutableArray<T> usual, Func<T, string> ink)
    {
        var places = Enumerable.Range(0, usual.Length).Where(i => Order.Contains(ink(usual[i]))).ToArray();
        var named = places.Select(i => usual[i]).OrderBy(one => Order.IndexOf(ink(one))).ToArray();
        var ordered = usual.ToBuilder();
        for (var i = 0; i < places.Length; i++)
            ordered[places[i]] = named[i];
        return ordered.ToImmutable();
    }
}

/// <summary>What a shop may say about the inks of a method.</summary>
public enum InkFreedom
{
    /// <summary>Inks are chosen for the art: they may be fixed, ruled out and reordered.</summary>
    Chosen,

    /// <summary>The method's own inks, in any order.</summary>
    OrderOnly,

    /// <summary>Neither.</summary>
    None,
}
