using Microsoft.EntityFrameworkCore;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Database;

public sealed record OrderDraft(
    string Title,
    Guid ClientId,
    DateOnly? InHandsDate,
    DateOnly? ApproveByDate,
    string Notes,
    IReadOnlyList<OrderPrint> Prints,
    IReadOnlyList<OrderLine> Lines
)
{
    public OrderTerms Terms { get; init; } = OrderTerms.Usual;
}

/// <summary>What an answer to the order must carry.</summary>
/// <param name="ValueMinor">worth in the smallest unit of the shop's currency; null while nobody said</param>
/// <param name="Evidence">null: the shop's rule by value</param>
/// <param name="SecondApprover">address of a second person who must approve too; empty for none</param>
/// <param name="SampleAsked">a printed sample is approved before the run</param>
public sealed record OrderTerms(long? ValueMinor, EvidenceLevel? Evidence, string SecondApprover, bool SampleAsked)
{
    public static OrderTerms Usual { get; } = new(null, null, "", false);

    public static OrderTerms Of(Order order) =>
        new(order.ValueMinor, order.EvidenceAsked, order.SecondApprover, order.SampleAsked);
}

/// <summary>One line of the desk's list.</summary>
/// <param name="MailTrouble">a mail of this order bounced, is paused or its fate is not known</param>
public sealed record OrderCard(
    Guid Id,
    int Number,
    string Title,
    string Client,
    DateOnly? InHandsDate,
    DateOnly? ApproveByDate,
    OrderState State,
    int? NewestVersion,
    VersionState? NewestVersionState,
    bool MailTrouble
);

/// <summary>Orders as the shop writes them down. Each change leaves a line in the trail.</summary>
public sealed class OrderBook(Office office, TimeProvider time)
{
    private const int FirstNumber = 1001;

    public Task<Guid> AddClientAsync(
        string name,
        string email,
        string phone,
        string actor,
        CancellationToken cancel = default
    ) =>
        office.WriteAsync(
            async db =>
            {
                var client = new Client
                {
                    Name = name,
                    Email = email,
                    Phone = phone,
                    CreatedAt = time.GetUtcNow(),
                };
                db.Clients.Add(client);
                db.Note(time, actor, "client added", null, name);
                await db.SaveChangesAsync(cancel);
                return client.Id;
            },
            cancel
        );

    public Task<Guid> CreateAsync(OrderDraft draft, string actor, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                // PostgreSQL writers meet at this lock, so that two orders never take the same number.
                await db.LockLogHeadAsync(cancel);
                var order = new Order
                {
                    Number = (await db.Orders.MaxAsync(row => (int?)row.Number, cancel) ?? FirstNumber - 1) + 1,
                    Title = draft.Title,
                    ClientId = draft.ClientId,
                    CreatedAt = time.GetUtcNow(),
                };
                Fill(order, draft);
                db.Orders.Add(order);
                db.Note(time, actor, "order created", order.Id, $"{order.Number} {order.Title}");
                await db.SaveChangesAsync(cancel);
                return order.Id;
            },
            cancel
        );

    /// <summary>
    /// Replaces prints and lines by those of the draft. What was sent stays as it was sent: the next render makes a new version.
    /// False when somebody else changed the order since <paramref name="rowVersion"/> was read.
    /// </summary>
    public Task<bool> EditAsync(
        Guid orderId,
        long rowVersion,
        OrderDraft draft,
        string actor,
        CancellationToken cancel = default
    ) =>
        office.WriteAsync(
            async db =>
            {
                var order = await Whole(db.Orders).SingleAsync(row => row.Id == orderId, cancel);
                if (order.RowVersion != rowVersion)
                {
                    return false;
                }
                var before = What(order);
                db.OrderPrints.RemoveRange(order.Prints);
                db.OrderLines.RemoveRange(order.Lines);
                await db.SaveChangesAsync(cancel);
                order.Prints = [];
                order.Lines = [];
                Fill(order, draft);
                db.OrderPrints.AddRange(order.Prints);
                db.OrderLines.AddRange(order.Lines);
                if (order.State != OrderState.Closed && What(order) != before)
                {
                    order.State = OrderState.WaitingForUs;
                }
                db.Entry(order).State = EntityState.Modified;
                db.Note(time, actor, "order edited", order.Id, order.Title);
                await db.SaveChangesAsync(cancel);
                return true;
            },
            cancel
        );

    /// <summary>
    /// Writes the further choices of one print. False when somebody else changed the order since <paramref name="rowVersion"/>
    /// was read.
    /// </summary>
    /// <param name="position">Which print of the order, from 0.</param>
    /// <param name="note">What was chosen, for the trail.</param>
    public Task<bool> ChooseAsync(
        Guid orderId,
        long rowVersion,
        int position,
        string options,
        string note,
        string actor,
        CancellationToken cancel = default
    ) =>
        office.WriteAsync(
            async db =>
            {
                var order = await Whole(db.Orders).SingleAsync(row => row.Id == orderId, cancel);
                var print = order.Prints.Find(row => row.Position == position);
                if (order.RowVersion != rowVersion || print is null)
                {
                    return false;
                }
                if (order.State != OrderState.Closed && print.Options != options)
                {
                    order.State = OrderState.WaitingForUs;
                }
                print.Options = options;
                db.Entry(order).State = EntityState.Modified;
                db.Note(time, actor, "order edited", order.Id, note);
                await db.SaveChangesAsync(cancel);
                return true;
            },
            cancel
        );

    public Task CloseAsync(Guid orderId, string actor, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                var order = await db.Orders.SingleAsync(row => row.Id == orderId, cancel);
                order.State = OrderState.Closed;
                db.Note(time, actor, "order closed", orderId, "");
                await db.SaveChangesAsync(cancel);
            },
            cancel
        );

    /// <summary>Takes a closed order back to whose turn it is.</summary>
    public Task ReopenAsync(Guid orderId, string actor, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                var order = await db.Orders.SingleAsync(row => row.Id == orderId, cancel);
                if (order.State != OrderState.Closed)
                {
                    return;
                }
                var version = await db
                    .ProofVersions.Include(row => row.Order)
                    .Where(row => row.OrderId == orderId && row.State != VersionState.Failed)
                    .OrderByDescending(row => row.Number)
                    .FirstOrDefaultAsync(cancel);
                order.State =
                    order.HeldSince is not null ? OrderState.WaitingForUs
                    : version?.SentAt is not null ? await Seats.TurnAsync(db, version, cancel)
                    // A repeat without a version of its own stands on the answer to the repeated one.
                    : version is null && order.RepeatOfVersionId is not null ? OrderState.ReadyToBurn
                    : OrderState.WaitingForUs;
                db.Note(time, actor, "order opened again", orderId, "");
                await db.SaveChangesAsync(cancel);
            },
            cancel
        );

    /// <summary>With client, prints, lines, counts and versions (newest first); null when there is none.</summary>
    public async Task<Order?> FindAsync(Guid orderId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await Whole(db.Orders.AsNoTracking())
            .Include(row => row.Client)
            .Include(row => row.Versions.OrderByDescending(version => version.Number))
            .SingleOrDefaultAsync(row => row.Id == orderId, cancel);
    }

    /// <summary>Orders of one state by in-hands date, those without a date last.</summary>
    public async Task<IReadOnlyList<OrderCard>> ListAsync(OrderState state, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db
            .Orders.AsNoTracking()
            .Where(row => row.State == state)
            .OrderBy(row => row.InHandsDate == null)
            .ThenBy(row => row.InHandsDate)
            .ThenBy(row => row.Number)
            .Select(row => new OrderCard(
                row.Id,
                row.Number,
                row.Title,
                row.Client!.Name,
                row.InHandsDate,
                row.ApproveByDate,
                row.State,
                row.Versions.OrderByDescending(version => version.Number)
                    .Select(version => (int?)version.Number)
                    .FirstOrDefault(),
                row.Versions.OrderByDescending(version => version.Number)
                    .Select(version => (VersionState?)version.State)
                    .FirstOrDefault(),
                db.OutboxMails.Any(mail =>
                    mail.OrderId == row.Id
                    && (
                        mail.State == MailState.Bounced
                        || mail.State == MailState.Paused
                        || mail.State == MailState.Uncertain
                    )
                )
            ))
            .ToListAsync(cancel);
    }

    // What a proof would show. A new date or note alone does not take an approved order off the press.
    private static string What(Order order) =>
        string.Join(
            '\n',
            order
                .Prints.Select(print =>
                    $"{print.Name}|{print.ArtSha256}|{print.Place}|{print.FromSeamUm}|{print.FromCentreUm}|{print.WidthUm}|"
                    + $"{print.Method}|{print.Background}|{print.Inks}|{print.Base}|{print.Options}|{print.SizeGroup}"
                )
                .Concat(
                    order.Lines.Select(line =>
                        $"{line.GarmentId}|{line.ColourId}|{string.Join(',', line.Counts.Select(count => $"{count.Size}={count.Count}"))}"
                    )
                )
        );

    private static IQueryable<Order> Whole(IQueryable<Order> orders) =>
        orders
            .AsSplitQuery()
            .Include(row => row.Prints.OrderBy(print => print.Position))
            .Include(row => row.Lines.OrderBy(line => line.Position))
                .ThenInclude(line => line.Counts.OrderBy(count => count.Position));

    private static void Fill(Order order, OrderDraft draft)
    {
        order.Title = draft.Title;
        order.ClientId = draft.ClientId;
        order.InHandsDate = draft.InHandsDate;
        order.ApproveByDate = draft.ApproveByDate;
        order.Notes = draft.Notes;
        order.ValueMinor = draft.Terms.ValueMinor;
        order.EvidenceAsked = draft.Terms.Evidence;
        order.SecondApprover = draft.Terms.SecondApprover;
        order.SampleAsked = draft.Terms.SampleAsked;
        for (var at = 0; at < draft.Prints.Count; at++)
        {
            draft.Prints[at].OrderId = order.Id;
            draft.Prints[at].Position = at;
            order.Prints.Add(draft.Prints[at]);
        }
        for (var at = 0; at < draft.Lines.Count; at++)
        {
            var line = draft.Lines[at];
            line.OrderId = order.Id;
            line.Position = at;
            for (var size = 0; size < line.Counts.Count; size++)
            {
                line.Counts[size].LineId = line.Id;
                line.Counts[size].Position = size;
            }
            order.Lines.Add(line);
        }
    }
}
