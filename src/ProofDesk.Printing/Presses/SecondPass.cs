using System.Collections.Immutable;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// A print on top of one that covers the whole side: the bits of both, the lower one first. For the picture only; each
/// print keeps its own films.
/// </summary>
public static class SecondPass
{
    /// <summary>Why these two cannot be laid on each other, or null.</summary>
    public static (string What, string NextStep)? Refusal(Films below, Films above, Garment garment) =>
        Offset(below, above, garment) is null
            ? (
                $"a second print on {garment.Name} must lie upright on the same side as the one below it",
                "choose front, back or a chest"
            )
            : null;

    /// <exception cref="ArgumentException">See <see cref="Refusal"/>.</exception>
    public static (Films Films, GroundPlan Plan) Over(Films below, GroundPlan belowPlan, Films above, GroundPlan plan)
    {
        var garment = plan.Ground.Garment;
        var (leftMm, topMm) =
            Offset(below, above, garment) ?? throw new ArgumentException(Refusal(below, above, garment)!.Value.What);
        var (canvas, device) = (below.Device, above.Device);
        var lower = below.Plates.Length;
        var separation = below.Separation with
        {
            Plates = [.. below.Separation.Plates, .. above.Separation.Plates],
            Grounds = [],
            Press = new SecondPassPress(below.Separation, above.Separation),
        };
        var films = below with
        {
            Separation = separation,
            Plates =
            [
                .. below.Plates,
                .. above.Plates.Select(film => new PlacedFilm(
                    film,
                    below.Width,
                    below.Height,
                    leftMm / 25.4 * canvas.XDpi,
                    topMm / 25.4 * canvas.YDpi,
                    device.XDpi / canvas.XDpi,
                    device.YDpi / canvas.YDpi
                )),
            ],
        };
        // The lower print is dry before the upper one starts.
        var last = belowPlan.Runs.ToList().FindLastIndex(r => r.Runs);
        return (
            films,
            new(
                plan.Ground,
                [
                    .. belowPlan.Runs.Select((r, i) => i == last ? r with { FlashAfter = true } : r),
                    .. plan.Runs.Select(r => r with { Plate = r.Plate + lower }),
                ]
            )
        );
    }

    /// <summary>Top left corner of the upper print on the lower one, mm; null when it does not lie upright there.</summary>
    private static (double Left, double Top)? Offset(Films below, Films above, Garment garment)
    {
        var (lower, upper) = (below.Separation, above.Separation);
        if (
            lower.Lay is not { } under
            || upper.Lay is not { } over
            || under.Placement.Place.Side() != over.Placement.Place.Side()
            || under.OnPrint(garment, lower.HeightMm) is not { } onLower
            || over.OnPrint(garment, upper.HeightMm) is not { } onUpper
        )
            return null;
        var (a, b) = (onLower((0, 0)), onUpper((0, 0)));
        var right = onUpper((1, 0));
        return Math.Abs(right.X - b.X - 1) > 1e-9 ? null : (a.X - b.X, a.Y - b.Y);
    }
}

/// <summary>Each plate by its own method; ink on the dry lower print lies on it as on a cloth of that colour.</summary>
internal sealed class SecondPassPress(Separation below, Separation above) : MethodPress
{
    private const int AboveCarriages = 1000;

    public override PressSettings PlateSettings(PressSettings press, Separation separation, int plate) =>
        OwnerOf(plate).Press.Settings(press);

    public override int? RegisterOf(Separation separation, int plate) =>
        plate < below.Plates.Length
            ? below.Press.RegisterOf(below, plate)
            : above.Press.RegisterOf(above, plate - below.Plates.Length) + AboveCarriages;

    public override Film Reaching(Film film, Films films, GroundPlan plan, Deposit deposit, ulong seed) =>
        below.Plates.Contains(film.Plate) ? below.Press.Reaching(film, films, plan, deposit, seed) : film;

    public override InkAction? ActionOf(Ink ink) =>
        above.Plates.Any(p => p.Ink.Kind == ink.Kind) && below.Plates.All(p => p.Ink.Kind != ink.Kind)
            ? new OnDryPrint(above.Press.ActionOf(ink))
            : below.Press.ActionOf(ink) ?? above.Press.ActionOf(ink);

    private Separation OwnerOf(int plate) => plate < below.Plates.Length ? below : above;

    /// <summary>K and S of two conventions are not stacked: the lower print becomes the cloth.</summary>
    private sealed class OnDryPrint(InkAction? own) : InkAction
    {
        public override bool CoversFibres => own?.CoversFibres ?? false;

        public override PrintedStack Print(PrintedStack below, InkPlace at)
        {
            if (below.Layers is [var first, ..] && first.Ink.Convention != at.Pass.Ink.Convention)
                below = below.OnCloth(below.Reflectance(at.Point)) with { Layers = [] };
            return own?.Print(below, at) ?? below.With(at.Layer);
        }
    }
}
