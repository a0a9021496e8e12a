using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Production;

/// <summary>Makes the order that repeats a version, from what the version was made of and not from what its order became since.</summary>
public sealed class Reorders(OrderBook book, Office office, ServerSettings settings)
{
    /// <returns>The new order, and whether nothing bound differs, so that the old answer stands for it.</returns>
    public async Task<(Guid OrderId, bool IsSame)> CreateAsync(
        ReadVersion read,
        ReorderForm form,
        string actor,
        CancellationToken cancel
    )
    {
        var orderId = await book.CreateAsync(Draft(read, form), actor, cancel);
        var made = await book.FindAsync(orderId, cancel);
        var isSame = StoredRepeat.IsSameOrder(read.Order, ProofOrder.Of(made!, settings));
        await office.WriteAsync(
            async db =>
            {
                var order = await db.Orders.SingleAsync(row => row.Id == orderId, cancel);
                order.RepeatOfVersionId = read.Version.Id;
                if (isSame)
                    order.State = OrderState.ReadyToBurn;
                await db.SaveChangesAsync(cancel);
            },
            cancel
        );
        return (orderId, isSame);
    }

    private static OrderDraft Draft(ReadVersion read, ReorderForm form)
    {
        var before = read.Order;
        var counts = new Queue<int?>(form.Counts);
        return new(
            string.IsNullOrWhiteSpace(form.Title) ? before.Title : form.Title.Trim(),
            read.Version.Order!.ClientId,
            form.InHands,
            form.ApproveBy,
            $"repeats version {read.Version.Number} of order {before.Number}",
            [.. before.Prints.Select(PrintOf)],
            [
                .. before
                    .Lines.Select(line => new OrderLine
                    {
                        GarmentId = line.GarmentId,
                        ColourId = line.ColourId,
                        Counts =
                        [
                            .. line.Counts.Select(count => new LineCount
                            {
                                Size = count.Size,
                                Count = counts.Dequeue() ?? 0,
                            }),
                        ],
                    })
                    .Where(line => line.Counts.Exists(count => count.Count > 0)),
            ]
        )
        {
            Terms = OrderTerms.Of(read.Version.Order!),
        };
    }

    private static OrderPrint PrintOf(ProofOrderPrint print) =>
        new()
        {
            Name = print.Name,
            ArtSha256 = print.ArtSha256,
            ArtFileName = print.ArtFileName,
            ArtMediaType = print.ArtMediaType,
            Place = print.Place.ToString(),
            WidthUm = (int)Math.Round(print.WidthMm * 1000),
            FromSeamUm = (int)Math.Round(print.FromSeamMm * 1000),
            FromCentreUm = (int)Math.Round(print.FromCentreMm * 1000),
            Method = print.Method,
            Background = print.Background,
            Inks = print.Inks,
            Base = new PressChoice(print.Base, print.BlockingBase, print.Press).Line,
            SizeGroup = print.SizeGroup,
            Words = string.Join('\n', print.Words),
            Options = print.Options?.ToJson() ?? "",
        };
}
