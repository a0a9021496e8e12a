using System.Globalization;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Inks;

/// <summary>An ink on the list: its words and its colours.</summary>
/// <param name="Key">Address of the shop's own ink; null for a default one.</param>
public sealed record InkCard(
    string? Key,
    int? Version,
    string Name,
    string Kind,
    string DataClass,
    string OnWhite,
    string OnBlack,
    string Masstone,
    string OnWhiteHex,
    string OnBlackHex,
    string WhiteHex,
    string BlackHex,
    string? Target
)
{
    public static InkCard Of(Ink ink, ShopInk? own = null)
    {
        var swatch = InkSwatch.Of(ink);
        return new(
            own?.Row.Key,
            own?.Row.Version,
            ink.Name,
            KindName(ink.Kind),
            ink.DataClass.ToString(),
            Text(swatch.OnWhite),
            Text(swatch.OnBlack),
            Text(swatch.Masstone),
            Hex.Of(swatch.OnWhite),
            Hex.Of(swatch.OnBlack),
            Hex.Of(InkSwatch.WhiteCloth.Colour.Reflectance),
            Hex.Of(InkSwatch.BlackCloth.Colour.Reflectance),
            TargetOf(ink)
        );
    }

    private static string? TargetOf(Ink ink)
    {
        if (ink.Target is not { } target)
            return null;
        var (white, black) = InkSwatch.ToTarget(ink, target);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Text(target.Lab)} ({target.Light}): dE00 {white:0.0} on white, {black:0.0} on black, {target.ToleranceDe00:0.##} passes"
        );
    }

    /// <summary>"water-based, high solids".</summary>
    public static string KindName(InkKind kind) =>
        InkDefinition.Word(kind).Replace("-high-solids", ", high solids", StringComparison.Ordinal);

    private static string Text(Lab lab) => $"{Whole(lab.L)} / {Whole(lab.A)} / {Whole(lab.B)}";

    // An integer has no negative zero.
    private static string Whole(double value) =>
        ((int)Math.Round(value, MidpointRounding.AwayFromZero)).ToString(CultureInfo.InvariantCulture);
}

public sealed record InksPage(
    IReadOnlyList<InkCard> Own,
    IReadOnlyList<ShopInk> Retired,
    IReadOnlyList<InkCard> Default
);

/// <param name="History">Versions, the newest first; empty for a new ink.</param>
public sealed record InkPage(InkForm Form, IReadOnlyList<ShopInk> History, InkCard? Card, IReadOnlyList<string> Notes)
{
    public ShopInk? Current => History.Count > 0 ? History[0] : null;
}
