namespace ProofDesk.Web.Tickets;

/// <summary>The press ticket: one printed page a print.</summary>
internal static class TicketsFeature
{
    public static void Add(IServiceCollection services) => services.AddScoped<TicketReader>();
}
