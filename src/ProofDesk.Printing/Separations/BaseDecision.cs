using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Where white goes under the colours. It is solved once, for the ground that needs it most, and runs or rests on
/// each of the others.
/// </summary>
/// <param name="Inks">The inks, now knowing whether they lie on the base and how they come out.</param>
/// <param name="Exists">Whether there is a base plate.</param>
/// <param name="CarriesWhite">Whether the art's white is on the same screen.</param>
/// <param name="Runs">Per ground.</param>
/// <param name="Reasons">Per ground, for the change-over sheet.</param>
internal sealed record BaseDecision(
    ImmutableArray<ArtInk> Inks,
    bool Exists,
    bool CarriesWhite,
    ImmutableArray<bool> Runs,
    ImmutableArray<string> Reasons
)
{
    public static BaseDecision Make(
        ImmutableArray<ArtInk> inks,
        ImmutableArray<Ground> grounds,
        SpotSettings settings,
        Appearance appearance,
        Mesh mesh
    )
    {
        var pale = grounds.Select(ground => ClothShows.IsPale(appearance.Cloth(ground))).ToArray();
        var discharge = settings.Base == BaseChoice.Discharge;
        // The screen is burned for the colours that need it; once it is there, others that gain a little get it as well.
        bool Burns(ArtInk ink, int ground) =>
            !ink.IsWhite && ink.Prints[ground] && ink.Gain[ground] > Appearance.WorthABase;
        bool Needs(ArtInk ink, int ground) =>
            (!ink.IsWhite || discharge)
            && ink.Prints[ground]
            && settings.Base switch
            {
                BaseChoice.White => true,
                BaseChoice.None => false,
                BaseChoice.Discharge => !pale[ground]
                    && !ClothShows.IsNearBlack(ink.Wanted)
                    && Discharge.Reaches(grounds[ground].Colour),
                _ => !pale[ground]
                    && !ClothShows.IsNearBlack(ink.Wanted)
                    && ink.Gain[ground] > Appearance.WorthInk
                    && inks.Any(other => Burns(other, ground)),
            };
        var all = Enumerable.Range(0, grounds.Length).ToArray();
        var onBase = LiesOnBase(inks, all, Needs);
        var exists = onBase.Any(o => o);
        var carriesWhite = exists && !discharge && inks.Any(ink => ink.IsWhite && ink.Prints.Contains(true));
        // White on a cloth that is white already would be seen as a patch: there the base rests.
        var whiteShows = all.Select(g => inks.Any(ink => ink.IsWhite && !ink.Prints[g])).ToArray();
        var runs = all.Select(g =>
                exists
                && !(carriesWhite && whiteShows[g] && settings.Base != BaseChoice.White)
                && inks.Where((ink, i) => onBase[i] && Needs(ink, g) || !discharge && ink.IsWhite && ink.Prints[g])
                    .Any()
            )
            .ToImmutableArray();
        return new(
            [
                .. inks.Select(
                    (ink, i) =>
                        ink with
                        {
                            OnBase = onBase[i],
                            Printed =
                            [
                                .. all.Select(g =>
                                    ink.IsWhite && !discharge
                                        ? appearance.White(grounds[g])
                                        : appearance.Of(grounds[g], ink.Ink, mesh, onBase[i] && runs[g])
                                ),
                            ],
                        }
                ),
            ],
            exists,
            carriesWhite,
            runs,
            [.. all.Select(g => Reason(inks, g, grounds[g], pale[g], Needs, settings))]
        );
    }

    /// <summary>
    /// Inks that need white somewhere; not those that leave the cloth to show on a ground where the base runs for others,
    /// or it would lie there bare.
    /// </summary>
    private static bool[] LiesOnBase(ImmutableArray<ArtInk> inks, int[] grounds, Func<ArtInk, int, bool> needs)
    {
        var onBase = inks.Select(ink => grounds.Any(g => needs(ink, g))).ToArray();
        for (var i = 0; i < inks.Length; i++)
            if (
                grounds.Any(g =>
                    !inks[i].Prints[g] && inks.Where((ink, j) => j != i && onBase[j] && needs(ink, g)).Any()
                )
            )
                onBase[i] = false;
        return onBase;
    }

    private static string Reason(
        ImmutableArray<ArtInk> inks,
        int ground,
        Ground on,
        bool pale,
        Func<ArtInk, int, bool> needs,
        SpotSettings settings
    )
    {
        var cloth = on.Colour.Name.ToLowerInvariant();
        var needing = inks.Where(ink => needs(ink, ground)).ToArray();
        if (needing.Length > 0 && settings.Base == BaseChoice.White)
            return $"white under every colour was asked for";
        if (needing.Length > 0 && settings.Base == BaseChoice.Discharge)
            return $"discharge base under {needing.Length} of {inks.Count(i => i.Prints[ground])} colours on {cloth}: it was asked for";
        if (settings.Base == BaseChoice.Discharge)
            return pale || !Discharge.Reaches(on.Colour)
                ? $"rests on {cloth}: there is no dye to take out"
                : $"rests on {cloth}: nothing but near-black prints there";
        if (needing.Length > 0)
        {
            var most = needing.MaxBy(ink => ink.Gain[ground])!;
            return ArtChecks.Text(
                $"white under {needing.Length} of {inks.Count(i => !i.IsWhite && i.Prints[ground])} colours on {cloth}: {most.Name} comes {most.Gain[ground]:0} dE00 nearer to the art"
            );
        }
        if (inks.Any(ink => ink.IsWhite && ink.Prints[ground]))
            return $"the art's white prints on {cloth}";
        if (settings.Base == BaseChoice.None)
            return "no base was asked for";
        return pale
            ? $"rests on {cloth}: the cloth is pale enough to be the base"
            : ArtChecks.Text(
                $"rests on {cloth}: no colour comes more than {Appearance.WorthABase:0.#} dE00 nearer to the art with white under it"
            );
    }
}
