using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Shop;

/// <summary>What the shop's money is called, by its code.</summary>
internal static class ShopCurrency
{
    public static Task<string> CurrencyAsync(this OfficeDb db, CancellationToken cancel) =>
        db.Shop.Select(shop => shop.Currency).SingleAsync(cancel);
}
