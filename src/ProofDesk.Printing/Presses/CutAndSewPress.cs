using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// The same dye on flat cloth that is cut and sewn afterwards: no crease anywhere, but the art meets at a seam only as well
/// as it was sewn.
/// </summary>
public sealed class CutAndSewPress() : SublimationPress(sewn: false)
{
    /// <summary>One sigma of a panel against its neighbour, each way; 2 to 4 mm at the seams are usual ([PHYSICS] 3.5).</summary>
    public const double SewingSigmaMm = 1.8;

    /// <summary>Sewing is judged, and done again beyond this.</summary>
    public const double SewingToleranceMm = 4;

    public override Film Reaching(Film film, Films films, GroundPlan plan, Deposit deposit, ulong seed)
    {
        var garment = plan.Ground.Garment;
        if (
            films.Separation.Lay is not { } lay
            || garment.Shape is not { } shape
            || lay.OnPrint(garment, films.Separation.HeightMm) is not { } onPrint
        )
            return film;
        var panels = shape.Panels(garment.Size(lay.Size)!, lay.Placement.Place.Side());
        return new PanelFilm(
            film,
            films,
            [
                .. panels.Select(
                    (panel, i) =>
                    {
                        // The largest panel is what the others are sewn to.
                        var (dx, dy) = panel.Name == "body" ? (0, 0) : Offset(seed, i, deposit);
                        return new SewnPanel([.. panel.Outline.Select(onPrint)], dx, dy);
                    }
                ),
            ]
        );
    }

    /// <summary>The light and the heavy end show the tolerance: the same direction, as far as it may go.</summary>
    private static (double Dx, double Dy) Offset(ulong seed, int panel, Deposit deposit)
    {
        var (dx, dy) = (
            SewingSigmaMm * SeededNoise.Normal(seed ^ 0x5E3D, panel),
            SewingSigmaMm * SeededNoise.Normal(seed ^ 0x5E3D, panel, 1)
        );
        var length = Math.Max(1e-9, Math.Sqrt(dx * dx + dy * dy));
        var wanted = deposit == Deposit.Expected ? Math.Min(length, SewingToleranceMm) : SewingToleranceMm;
        return (dx / length * wanted, dy / length * wanted);
    }
}
