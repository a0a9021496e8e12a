using ProofDesk.Printing.Methods;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Orders;

/// <summary>What a cell of a compare sheet would have an order be: in the address of the form, so that nothing is changed by looking.</summary>
public sealed class OrderChoice
{
    public string? Method { get; set; }

    /// <summary>Number of colours; null = as many as the art has.</summary>
    public int? Colours { get; set; }

    /// <summary>"tee/black", for a new order.</summary>
    public string? Ground { get; set; }

    public double? WidthMm { get; set; }

    /// <summary>Fills the form in; what is unknown or out of range is left alone.</summary>
    public void FillIn(OrderForm form, Garments garments)
    {
        if (PrintMethods.Find(Method ?? "") is not { } method)
            return;
        form.Method = method.Id;
        form.InkCount = Colours is >= 1 and <= 12 ? Colours : null;
        // Inks and rules that were chosen by name belong to the method they were chosen for.
        form.Inks.Clear();
        form.Rules.Clear();
        if (WidthMm is >= 20 and <= 500)
            form.WidthMm = WidthMm.Value;
        if (garments.Find(Ground ?? "") is { } ground)
            form.Lines[0].Ground = ground.Id;
    }
}
