using System.Globalization;

namespace ProofDesk.Web.Shop;

/// <summary>Amounts in the smallest unit of a currency, and as people write them. Digits after the point as in ISO 4217.</summary>
public static class Money
{
    private static readonly string[] Whole = ["CLP", "ISK", "JPY", "KRW", "PYG", "UGX", "VND", "XAF", "XOF", "XPF"];
    private static readonly string[] Thousandths = ["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"];

    public static int Digits(string currency) =>
        Whole.Contains(currency) ? 0
        : Thousandths.Contains(currency) ? 3
        : 2;

    /// <summary>Null when it has more digits after the point than the currency.</summary>
    public static long? Minor(decimal amount, string currency)
    {
        var scaled = amount * Unit(currency);
        return scaled == decimal.Truncate(scaled) ? (long)scaled : null;
    }

    public static decimal Amount(long minor, string currency) => minor / Unit(currency);

    /// <summary>"1,250.00 EUR"; without a currency the number alone.</summary>
    public static string Say(long minor, string currency) =>
        $"{Amount(minor, currency).ToString("N" + Digits(currency), CultureInfo.InvariantCulture)} {currency}".TrimEnd();

    /// <summary>As a number field holds it.</summary>
    public static string Field(decimal? amount) => amount?.ToString("0.###", CultureInfo.InvariantCulture) ?? "";

    private static decimal Unit(string currency) =>
        Digits(currency) switch
        {
            0 => 1,
            3 => 1000,
            _ => 100,
        };
}
