using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Rosters;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.ByHand;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Printing.Separations.Layers;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// The steps of a proof, in order. The server's worker and the command line both call this; nobody edits a value on
/// the way, and every picture comes from the film bits that the plates are written from.
/// </summary>
public static class ProofMaker
{
    /// <summary>Part of every recipe: raised whenever the same input may give other bytes.</summary>
    public const string EngineVersion = "0.3.1";

    /// <summary>Makes the whole proof of one print.</summary>
    /// <exception cref="ProofRefused">The art or the settings cannot do this; the findings say why.</exception>
    /// <exception cref="OperationCanceledException"><paramref name="cancel"/> was set.</exception>
    public static Proof Make(ProofRequest request, IProgress<ProofProgress>? progress, CancellationToken cancel)
    {
        var steps = new Steps(request, progress, cancel);

        steps.Begin("size", 1);
        var (art, placement) = Size(request);
        var placed = PlacementChecks.Of(request.Grounds, placement, art.HeightMm, request.Sizes);
        ProofRefused.ThrowIfAny([.. art.Findings, .. placed]);

        ImmutableArray<RosterPiece> pieces =
        [
            .. request.Roster?.Entries.Select(e => RosterPiece.Of(e, request.Roster.Style)) ?? [],
        ];

        steps.Begin("separate", 8);
        var separation = Separate(request, art, placement);
        var equipment = PressEquipment.Of(request.Spot);
        var pressPlans = separation.Grounds.Select(g => PressPlan.Of(separation, g, equipment)).ToArray();
        var report = FilmChecks.Of(separation, Device(request), request.Layout, request.Spot.WeakTones);
        ImmutableArray<Finding> findings =
        [
            .. art
                .Findings.Concat(placed)
                .Concat(separation.Findings)
                .Concat(
                    request.Roster is { } list ? RosterChecks.Of(list, request.Method, request.Grounds, pieces) : []
                )
                .Concat(pressPlans.SelectMany(plan => plan?.Findings ?? []))
                .Concat(report.Findings)
                .Distinct(),
        ];
        ProofRefused.ThrowIfAny(findings);

        steps.Begin("screen", 4);
        var films = Screen(request, separation);
        // What was corrected for the device comes out of it as it was meant: that is what prints.
        var exposed = films.Device.Tones is null ? films : Exposed(request, separation);
        var below = request.Under is { } under ? Below(under, request, exposed) : null;
        var measures = Measure(films, films.Device, cancel);
        var counted = ReferenceEquals(films, exposed) ? measures : Measure(exposed, exposed.Device, cancel);

        var grounds = ImmutableArray.CreateBuilder<GroundProof>(separation.Grounds.Length);
        foreach (var (plan, pressPlan) in separation.Grounds.Zip(pressPlans))
            grounds.Add(Prove(request, exposed, counted, plan, equipment, steps, below) with { PressPlan = pressPlan });
        findings = [.. findings, .. TargetFindings.Of(grounds.Select(ground => ground.InkList))];

        RosterProof? roster = null;
        if (request.Roster is { } named)
        {
            steps.Begin("names and numbers", Steps.RosterWeight);
            roster = RosterProofs.Make(request, named, pieces, cancel);
        }

        steps.Begin("finished", 0);
        return new(
            request,
            art,
            separation,
            films,
            measures,
            grounds.MoveToImmutable(),
            RecipeWriter.Of(request),
            findings
        )
        {
            Roster = roster,
            PlateChecks = report.Plates,
        };
    }

    /// <summary>The first steps alone: the films of a proof as they print, to look at a spot of them again.</summary>
    public static Films MakeFilms(ProofRequest request)
    {
        var (art, placement) = Size(request);
        return Exposed(request, Separate(request, art, placement));
    }

    /// <summary>
    /// The first steps alone: art at its size and its plates, nothing screened. Findings hold what makes the whole proof impossible
    /// as well; nothing is thrown for them.
    /// </summary>
    public static (SizedArt Art, Separation Separation) MakePlates(ProofRequest request)
    {
        var (art, placement) = Size(request);
        return (art, Separate(request, art, placement));
    }

    /// <summary>The art at its size; a method that covers the garment spreads it over the whole side and places it itself.</summary>
    private static (SizedArt Art, Placement Placement) Size(ProofRequest request)
    {
        var art = ArtSizing.Size(request.Art, request.Placement.WidthMm, request.Background);
        return request.Method.AllOver is { } rule && (rule.Always || request.Placement.Place.IsAllOver())
            ? AllOverArt.Cover(
                art,
                request.Grounds[0].Garment,
                request.GarmentSize,
                request.Placement.Place,
                rule.BleedMm,
                rule.Why
            )
            : (art, request.Placement);
    }

    private static Separation Separate(ProofRequest request, SizedArt art, Placement placement)
    {
        // Methods that set their own inks read no rules: say so before they are forgotten.
        ProofRefused.ThrowIfAny([.. InkRuleChecks.Of(request.Method, request.Spot)]);
        // On a printed ground no colour of the art can be left to the cloth, unless somebody says so.
        var spot = request.Spot with
        {
            IsOnPrint = request.Under is not null && request.Spot.ClothShows.Count == 0,
        };
        var separation = LayeredArt.Separate(art, request.Method, request.Grounds, spot) with
        {
            Press = request.Method.Press,
            Lay = new(placement, request.GarmentSize),
        };
        separation = HandWorkOn.Apply(separation, request.HandWork, spot);
        return separation with { Findings = [.. separation.Findings, .. PrintChecks.Of(separation, request.Press)] };
    }

    /// <summary>Films of the print that this one lies on.</summary>
    private static Films Below(ProofRequest under, ProofRequest request, Films above)
    {
        under = under with { Grounds = request.Grounds, GarmentSize = request.GarmentSize };
        var (art, placement) = Size(under);
        var separation = Separate(under, art, placement);
        ProofRefused.ThrowIfAny(separation.Findings);
        var films = Exposed(under, separation);
        if (SecondPass.Refusal(films, above, request.Grounds[0].Garment) is { } refusal)
            ProofRefused.ThrowIfAny([
                new("second-print-not-on-first", FindingWeight.Refusal, refusal.What, refusal.NextStep),
            ]);
        return films;
    }

    private static OutputDevice Device(ProofRequest request)
    {
        var device = request.Method.Device(request.Device);
        return device with { Mirror = device.Mirror != request.Method.Reversed };
    }

    /// <summary>The films as they are written.</summary>
    private static Films Screen(ProofRequest request, Separation separation) =>
        FilmMaker.Screen(separation, Device(request)) with
        {
            Layout = request.Layout,
        };

    /// <summary>The films as they come out of the device.</summary>
    private static Films Exposed(ProofRequest request, Separation separation) =>
        FilmMaker.Screen(separation, Device(request) with { Tones = null }) with
        {
            Layout = request.Layout,
        };

    private static GroundProof Prove(
        ProofRequest request,
        Films films,
        ImmutableArray<FilmMeasure> measures,
        GroundPlan plan,
        PressEquipment equipment,
        Steps steps,
        Films? below
    )
    {
        var (shown, shownPlan) = below is null
            ? (films, plan)
            : SecondPass.Over(below, below.Separation.Grounds.Single(g => g.Ground == plan.Ground), films, plan);
        var colour = plan.Ground.Colour.Name;
        var expected = Print($"print on {colour}", Deposit.Expected, null);

        var range = ImmutableArray<PrintedCloth>.Empty;
        if (request.WithRange)
            range =
            [
                Print($"light end on {colour}", Deposit.Light, null),
                Print($"heavy end on {colour}", Deposit.Heavy, null),
            ];

        RunStrip? strip = null;
        if (request.WithRange)
        {
            steps.Begin($"shirts of one run on {colour}", Steps.StripWeight);
            strip = RunStrip.Draw(
                films,
                plan,
                request.Press,
                equipment.Heads,
                request.Light,
                request.Seed,
                steps.Cancel
            );
        }

        var headByHead = ImmutableArray.CreateBuilder<PrintedCloth>();
        if (request.HeadByHead)
            for (var after = 1; after < shownPlan.Runs.Count(r => r.Runs); after++)
                headByHead.Add(Print($"head {after} on {colour}", Deposit.Expected, after));

        steps.Begin($"garment, {colour}", Steps.GarmentWeight);
        var garment = WornGarment.Draw(
            plan.Ground,
            plan.Ground.Garment.SizeOrMiddle(request.GarmentSize).Size,
            WornGarment.SideOf(request.Placement.Place),
            [new(expected, shown.Separation.Lay?.Placement ?? request.Placement)],
            request.Light,
            request.GarmentPixelsPerMm ?? WornGarment.UsualPixelsPerMm,
            request.Seed
        );
        var inkList = InkListMaker.Of(films, measures, plan, request.Press, request.Quantity);
        return new(plan, expected, range, headByHead.ToImmutable(), garment, inkList)
        {
            Hand = HandFeel.Of(films.Separation, plan, measures, request.Press),
            Strip = strip,
            SecondLights = PrintChecks.SecondLights(films.Separation, plan, request.Press),
            Overprints = InkTrapping.Of(films.Separation, plan, request.Press),
        };

        PrintedCloth Print(string step, Deposit deposit, int? after)
        {
            var within = steps.Begin(step, Steps.PrintWeight);
            return PrintSimulator.Print(
                shown,
                shownPlan,
                request.Press,
                deposit,
                request.Light,
                request.Seed,
                after,
                within,
                steps.Cancel
            );
        }
    }

    private static ImmutableArray<FilmMeasure> Measure(Films films, OutputDevice device, CancellationToken cancel)
    {
        var measures = new FilmMeasure[films.Plates.Length];
        Parallel.For(
            0,
            measures.Length,
            new() { CancellationToken = cancel },
            i => measures[i] = FilmMeasure.Of(films.Plates[i], device, cancel)
        );
        return [.. measures];
    }

    /// <summary>Turns steps of different weight into one share that only grows.</summary>
    private sealed class Steps(ProofRequest request, IProgress<ProofProgress>? progress, CancellationToken cancel)
    {
        public const int PrintWeight = 8;
        public const int RosterWeight = 12;
        public const int GarmentWeight = 6;
        public const int StripWeight = 4;

        private readonly double _whole =
            1
            + 8
            + 4
            + request.Grounds.Length
                * (PrintWeight * (request.WithRange ? 3 : 1) + (request.WithRange ? StripWeight : 0) + GarmentWeight)
            + (request.Roster is null ? 0 : RosterWeight)
            // How many heads run is known only after separating; five is the usual job.
            + (request.HeadByHead ? request.Grounds.Length * PrintWeight * 4 : 0);

        private double _done;
        private double _weight;

        public CancellationToken Cancel => cancel;

        public IProgress<double> Begin(string step, double weight)
        {
            cancel.ThrowIfCancellationRequested();
            _done += _weight;
            _weight = weight;
            progress?.Report(new(step, weight == 0 ? 1 : Math.Min(0.99, _done / _whole)));
            return new Within(this, step, _done, weight);
        }

        private sealed class Within(Steps steps, string step, double done, double weight) : IProgress<double>
        {
            public void Report(double value) =>
                steps.Tell(new(step, Math.Min(0.99, (done + weight * Math.Clamp(value, 0, 1)) / steps._whole)));
        }

        private void Tell(ProofProgress told) => progress?.Report(told);
    }
}
