namespace ProofDesk.Web.Reviews;

/// <summary>The client's side: the mailed link, looking, deciding, the receipt.</summary>
internal static class ReviewsFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddSingleton<ReviewTicket>();
        services.AddSingleton<ReviewViews>();
        services.AddSingleton<FormStamp>();
        services.AddSingleton<SignsOfRobots>();
        services.AddSingleton<PictureSizes>();
    }
}
