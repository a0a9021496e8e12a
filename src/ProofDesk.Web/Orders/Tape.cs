namespace ProofDesk.Web.Orders;

/// <summary>The tape measure has two sides.</summary>
public static class Tape
{
    public static string Inches(double mm) => FormattableString.Invariant($"{mm / 25.4:0.00} in");
}
