using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Rosters;

/// <summary>Names and numbers as they will come out: the first line at full scale and worn, all lines on one sheet.</summary>
/// <param name="First">The first line, from film bits as every print.</param>
/// <param name="Garment">The back of the first garment.</param>
/// <param name="Sheet">Every line, small, for the client to read one by one.</param>
public sealed record RosterProof(
    Roster Roster,
    ImmutableArray<RosterPiece> Pieces,
    PrintedCloth First,
    RgbPicture Garment,
    RgbPicture Sheet
);

internal static class RosterProofs
{
    /// <summary>Resolution of the small pictures' films: enough for letters, a tenth of the work.</summary>
    private const double SmallDpi = 300;

    public static RosterProof Make(
        ProofRequest request,
        Roster roster,
        ImmutableArray<RosterPiece> pieces,
        CancellationToken cancel
    )
    {
        var ground = GroundOf(pieces[0]);
        var first = Print(pieces[0], request.Device, ground);
        var size = pieces[0].Entry.Size.Length > 0 ? pieces[0].Entry.Size : request.GarmentSize;
        var garment = WornGarment.Draw(
            ground,
            size,
            GarmentSide.Back,
            [new(first, Placement.Usual(Place.Back, pieces[0].WidthMm))],
            request.Light,
            request.GarmentPixelsPerMm ?? WornGarment.UsualPixelsPerMm,
            request.Seed
        );
        var small = request.Device with { XDpi = SmallDpi, YDpi = SmallDpi };
        var pictures = pieces
            .Select(piece =>
            {
                cancel.ThrowIfCancellationRequested();
                return RosterSheet.Shrunk(Print(piece, small, GroundOf(piece)).Print);
            })
            .ToArray();
        return new(roster, pieces, first, garment, RosterSheet.LayOut(pictures, pieces));

        Ground GroundOf(RosterPiece piece) => RosterChecks.Ground(request.Grounds, piece.Entry) ?? request.Grounds[0];

        PrintedCloth Print(RosterPiece piece, OutputDevice device, Ground on)
        {
            var ink = RosterPlates.InkFor(roster, request.Method, on);
            var separation = RosterPlates.Of(piece, request.Method, on, ink);
            return PrintSimulator.Print(
                FilmMaker.Screen(separation, device),
                separation.Grounds[0],
                request.Press,
                Deposit.Expected,
                request.Light,
                request.Seed,
                cancellation: cancel
            );
        }
    }
}
