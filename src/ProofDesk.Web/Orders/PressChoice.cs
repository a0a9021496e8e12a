namespace ProofDesk.Web.Orders;

/// <summary>
/// What lies under the colours and which press prints them, as an order keeps it in one line: "auto",
/// "white blocking", "discharge press=own-shed-press". A request keeps the three apart.
/// </summary>
/// <param name="Base">"auto", "white", "discharge" or "none".</param>
/// <param name="BlockingBase">A low-bleed grey under white on dyed polyester.</param>
/// <param name="Press">"own-shed-press"; empty for the usual automatic press.</param>
public sealed record PressChoice(string Base, bool BlockingBase, string Press)
{
    private const string Blocking = "blocking";
    private const string PressIs = "press=";

    public static PressChoice Of(string line)
    {
        var words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return new(
            words is [var first, ..] ? first : "auto",
            words.Contains(Blocking),
            Array.Find(words, w => w.StartsWith(PressIs, StringComparison.Ordinal))?[PressIs.Length..] ?? ""
        );
    }

    /// <summary>As the order keeps it.</summary>
    public string Line => Base + (BlockingBase ? $" {Blocking}" : "") + (Press.Length > 0 ? $" {PressIs}{Press}" : "");

    /// <summary>As a page says it.</summary>
    public string UnderWords =>
        Base switch
        {
            "white" => "white under every colour",
            "discharge" => "discharge base",
            "none" => "nothing",
            _ => "white where the cloth asks for it",
        } + (BlockingBase ? ", blocking base under white on dyed polyester" : "");
}
