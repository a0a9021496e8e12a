using System.Collections.Immutable;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Garments;
using ProofDesk.Web.Inks;

namespace ProofDesk.Web.Orders;

public sealed record NewOrderPage(
    OrderForm Form,
    IReadOnlyList<Client> Clients,
    ImmutableArray<Ground> Grounds,
    ImmutableArray<string> Sizes,
    IReadOnlyList<ShopInk> Inks,
    Order? Editing = null
);
