using Microsoft.EntityFrameworkCore;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Database;

/// <summary>Who answers as what: the one who decides, the second approver, and whoever answers about the printed sample.</summary>
internal static class Seats
{
    public static AnswerSeat? Of(Invitation invitation, bool forSample) =>
        forSample ? AnswerSeat.Sample
        : invitation.Purpose == InvitationPurpose.Second ? AnswerSeat.Second
        : null;

    /// <summary>The answer that has the seat now; null stands for the seat that decides.</summary>
    public static async Task<Decision?> StandingAsync(
        OfficeDb db,
        Guid versionId,
        AnswerSeat? seat,
        CancellationToken cancel
    )
    {
        if (seat is null)
        {
            return await db
                .DecisionSlots.AsNoTracking()
                .Where(row => row.VersionId == versionId)
                .Select(row => row.Decision)
                .SingleOrDefaultAsync(cancel);
        }
        return await db
            .Decisions.AsNoTracking()
            .Where(row =>
                db.SeatsTaken.Any(taken =>
                    taken.VersionId == versionId && taken.Seat == seat && taken.DecisionId == row.Id
                )
            )
            .SingleOrDefaultAsync(cancel);
    }

    /// <summary>Sits down, or gets up when the decision is a withdrawal.</summary>
    public static async Task TakeAsync(
        OfficeDb db,
        Guid versionId,
        AnswerSeat? seat,
        Decision decision,
        CancellationToken cancel
    )
    {
        var leaves = decision.Kind == DecisionKind.Withdraw;
        if (seat is null)
        {
            if (leaves)
            {
                db.DecisionSlots.Remove(await db.DecisionSlots.SingleAsync(row => row.VersionId == versionId, cancel));
            }
            else
            {
                db.DecisionSlots.Add(new DecisionSlot { VersionId = versionId, DecisionId = decision.Id });
            }
        }
        else if (leaves)
        {
            db.SeatsTaken.Remove(
                await db.SeatsTaken.SingleAsync(row => row.VersionId == versionId && row.Seat == seat, cancel)
            );
        }
        else
        {
            db.SeatsTaken.Add(
                new SeatTaken
                {
                    VersionId = versionId,
                    Seat = seat.Value,
                    DecisionId = decision.Id,
                }
            );
        }
    }

    /// <summary>Whose turn it is once all seats are looked at.</summary>
    public static async Task<OrderState> TurnAsync(OfficeDb db, ProofVersion version, CancellationToken cancel)
    {
        var first = await StandingAsync(db, version.Id, null, cancel);
        var second = await StandingAsync(db, version.Id, AnswerSeat.Second, cancel);
        var sample = await StandingAsync(db, version.Id, AnswerSeat.Sample, cancel);
        if (new[] { first, second, sample }.Any(answer => answer?.Kind == DecisionKind.Changes))
        {
            return OrderState.WaitingForUs;
        }
        var isWhole = first is not null && (version.Order!.SecondApprover.Length == 0 || second is not null);
        return isWhole ? OrderState.ReadyToBurn : OrderState.WaitingForThem;
    }
}
