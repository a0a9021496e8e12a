using System.Collections.Immutable;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Garments;
using ProofDesk.Web.Devices;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Presses;

namespace ProofDesk.Web.Orders;

public sealed record NewOrderPage(
    OrderForm Form,
    IReadOnlyList<Client> Clients,
    ImmutableArray<Ground> Grounds,
    ImmutableArray<string> Sizes,
    IReadOnlyList<ShopInk> Inks,
    IReadOnlyList<ShopPress> Presses,
    IReadOnlyList<ShopDevice> Devices,
    Order? Editing = null
);
