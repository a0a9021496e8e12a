using System.Collections.Concurrent;
using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>
/// Colours that combinations of many inks leave on one ground, each computed once: sets of inks that are compared with each other
/// have most combinations in common.
/// </summary>
internal sealed class KnownColours
{
    private readonly ConcurrentDictionary<ulong, (Xyz Mean, Xyz Through)> _known = new();
    private readonly TonalJob _all;
    private readonly int _ground;
    private readonly InkedCloth _inks;
    private readonly ImmutableArray<ulong> _passesOf;
    private readonly bool _quick;

    /// <param name="all">A job with every ink that may be asked about.</param>
    /// <param name="quick">One point of the knit instead of all.</param>
    public KnownColours(TonalJob all, int ground, bool quick)
    {
        (_all, _ground, _quick) = (all, ground, quick);
        (_inks, _passesOf) = TonalGround.Inked(all, ground);
    }

    /// <summary>The model of a job whose plates are among those of the large one.</summary>
    public PlateModel Model(TonalJob job)
    {
        var (opticalN, nested) = TonalGround.Dots(job, _ground);
        return PlateModel.Of(
            [.. job.Plates.Select(PassesOf)],
            passes => _known.GetOrAdd(passes, Colour),
            opticalN,
            nested
        );
    }

    private ulong PassesOf(TonalPlate plate)
    {
        for (var i = 0; i < _passesOf.Length; i++)
            if (_all.Plates[i].Purpose == plate.Purpose && _all.Plates[i].Ink.Id == plate.Ink.Id)
                return _passesOf[i];
        throw new ArgumentException($"{plate.Name} is not among the inks that were to be known");
    }

    private (Xyz Mean, Xyz Through) Colour(ulong passes) =>
        _quick ? PlateModel.Quick(_inks, passes, TonalGround.Light) : PlateModel.Mean(_inks, passes, TonalGround.Light);
}
