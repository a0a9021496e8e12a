using System.Collections.Immutable;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Web.Orders;

public sealed record NewOrderPage(
    OrderForm Form,
    IReadOnlyList<Client> Clients,
    ImmutableArray<Ground> Grounds,
    ImmutableArray<string> Sizes,
    Order? Editing = null
);
