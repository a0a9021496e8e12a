namespace ProofDesk.Web.Advice;

/// <summary>Which methods can print an order's art on its cloth in its quantity, and why. docs/advice.md.</summary>
internal static class AdviceFeature
{
    public static void Add(IServiceCollection services) => services.AddSingleton<MethodStudies>();
}
