using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>How a flat colour is printed.</summary>
/// <param name="Plates">Plates that print it solid, base included; empty = the cloth shows.</param>
/// <param name="Off">CIEDE2000 from the art on the worst ground; 0 where the cloth shows.</param>
/// <param name="Ground">That ground.</param>
internal sealed record SolidInk(ImmutableArray<int> Plates, double Off, int Ground)
{
    public bool IsCloth => Plates.IsEmpty;
}

/// <summary>
/// Which plates of a job print a flat colour solid: of all stacks the method allows the one that comes nearest to the art,
/// with a base below where that is nearer by enough to be worth its ink.
/// </summary>
internal static class SolidInks
{
    /// <summary>A solid this near to the art is kept (CIEDE2000): a client who looks for it sees a difference, the letter is crisp.</summary>
    public const double NearEnough = 4;

    /// <summary>Process inks and a given list are what there is: as far as spot art is let go without a warning.</summary>
    public const double NearEnoughOfGiven = 6;

    /// <summary>For each colour its plates; null = no stack comes near, it stays toned.</summary>
    /// <param name="together">So many colours may print on each other for one flat colour: one in simulated process, three in four-colour.</param>
    public static ImmutableArray<SolidInk?> Of(FlatArt flat, TonalJob job, int together, double nearEnough)
    {
        var press = job.Method.Press.Settings(job.Settings.Press);
        var stacks = Stacks(job, together);
        var printed = job
            .Grounds.Select(
                (ground, g) =>
                {
                    var runs = job.RunsOn(g);
                    InkPass[] passes =
                    [
                        .. runs.Select(r => new InkPass(
                            job.Plates[r.Plate].Ink,
                            job.Plates[r.Plate].Mesh,
                            job.Plates[r.Plate].Strokes,
                            r.FlashAfter
                        )),
                    ];
                    var inks = job.Method.Press.On(ground, [.. passes], press, Deposit.Expected);
                    return stacks
                        .Select(stack =>
                        {
                            var code = 0UL;
                            for (var i = 0; i < runs.Length; i++)
                                if (stack.Contains(runs[i].Plate))
                                    code |= 1UL << i;
                            return inks.SolidLab(code, ViewingLight.D50);
                        })
                        .ToArray();
                }
            )
            .ToArray();
        return [.. flat.Colours.Select(c => Best(c, job, stacks, printed, nearEnough))];
    }

    private static SolidInk? Best(
        FlatColour colour,
        TonalJob job,
        List<ImmutableArray<int>> stacks,
        Lab[][] printed,
        double nearEnough
    )
    {
        if (FlatInks.LeftToCloth(colour, job.Grounds, job.Settings))
            return new([], 0, 0);
        var wanted = Srgb.ToLab(colour.Linear);
        var shows = job
            .Grounds.Select(g => ClothShows.On(colour.ForPalette, wanted, TonalJobs.Cloth(g), job.Settings))
            .ToArray();
        // White is what the white screens make and near-black what the black one does, however far from the art's.
        if (ClothShows.IsWhite(wanted) && Whites(job) is { IsEmpty: false } whites)
            return Printed(whites);
        var black = Enumerable
            .Range(0, job.Plates.Length)
            .FirstOrDefault(i => job.Plates[i].Ink.Role == InkRole.Black, -1);
        if (ClothShows.IsNearBlack(wanted) && black >= 0)
            return Printed([black]);
        var best = stacks
            .Select((stack, s) => (Stack: stack, Miss: Miss(s) + (HasBase(stack) ? Appearance.WorthInk : 0)))
            .MinBy(s => s.Miss);
        var solid = Printed(best.Stack);
        return solid.Off <= nearEnough ? solid : null;

        SolidInk Printed(ImmutableArray<int> stack)
        {
            var s = stacks.FindIndex(other => other.SequenceEqual(stack));
            var worst = Enumerable.Range(0, printed.Length).Where(g => !shows[g]).MaxBy(g => Off(g, s));
            return new(stack, Off(worst, s), worst);
        }

        double Off(int ground, int stack) => Ciede2000.Difference(printed[ground][stack], wanted);

        double Miss(int stack) => Enumerable.Range(0, printed.Length).Where(g => !shows[g]).Average(g => Off(g, stack));

        bool HasBase(ImmutableArray<int> stack) => stack.Any(i => job.Plates[i].Purpose.IsBase);
    }

    private static ImmutableArray<int> Whites(TonalJob job) =>
        [.. Enumerable.Range(0, job.Plates.Length).Where(i => job.Plates[i].IsWhite)];

    private static bool IsDark(Ink ink) =>
        ink.Role == InkRole.Black
        || CieLab
            .FromXyz(
                Tristimulus.Of(
                    Spectrum.Combine(ink.AbsorptionPerUm, ink.ScatteringPerUm, (k, s) => KubelkaMunk.Rinf(k / s)),
                    ViewingLight.D50
                ),
                ViewingLight.D50
            )
            .L < 35;

    private static List<ImmutableArray<int>> Stacks(TonalJob job, int together)
    {
        var colours = Enumerable.Range(0, job.Plates.Length).Where(i => !job.Plates[i].IsWhite).ToArray();
        var below = Enumerable.Range(0, job.Plates.Length).Where(i => job.Plates[i].Purpose.IsBase).ToArray();
        var stacks = new List<ImmutableArray<int>>();
        for (var code = 1; code < 1 << colours.Length; code++)
        {
            if (System.Numerics.BitOperations.PopCount((uint)code) > together)
                continue;
            int[] over = [.. colours.Where((_, i) => (code >> i & 1) != 0)];
            // Where white runs, only dark inks go straight onto the cloth: a pale one there is a colour of chance.
            if (below.Length == 0 || over.All(i => IsDark(job.Plates[i].Ink)))
                stacks.Add([.. over]);
            if (below.Length > 0)
                stacks.Add([.. below, .. over]);
        }
        if (Whites(job) is { IsEmpty: false } whites)
            stacks.Add(whites);
        return stacks;
    }
}
