using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Orders;

/// <summary>Writes down a checked order and asks for its proof, unless its art raises a question first.</summary>
public sealed class OrderTaking(OfficeDb db, OrderBook book, RenderRequests renders)
{
    /// <param name="background">"drop" or "print" where it is said already</param>
    public async Task<Guid> CreateAsync(
        OrderForm form,
        UploadedArt art,
        string? background,
        string actor,
        CancellationToken cancel
    )
    {
        var draft = OrderForms.Draft(form, await ClientAsync(form, actor, cancel), art);
        if (art.IsOpaque)
            draft.Prints[0].Background = background ?? "";
        return await book.CreateAsync(draft, actor, cancel);
    }

    /// <summary>Asks for the proof; null when the art raises a question that nobody has answered yet.</summary>
    public async Task<Guid?> AskAsync(
        Guid orderId,
        UploadedArt art,
        string? background,
        string? words,
        string actor,
        CancellationToken cancel
    ) =>
        (art.IsOpaque && string.IsNullOrEmpty(background)) || (art.HasWords && string.IsNullOrWhiteSpace(words))
            ? null
            : await renders.AskAsync(orderId, actor, cancel);

    private async Task<Guid> ClientAsync(OrderForm form, string actor, CancellationToken cancel)
    {
        var (name, email) = (form.ClientName.Trim(), form.ClientEmail.Trim());
        var known = await db
            .Clients.AsNoTracking()
            .FirstOrDefaultAsync(c => c.Name == name && c.Email == email, cancel);
        return known?.Id ?? await book.AddClientAsync(name, email, "", actor, cancel);
    }
}
