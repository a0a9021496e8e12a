using Microsoft.AspNetCore.Mvc.Razor;
using ProofDesk.Adapters;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Garments;
using ProofDesk.Web.Account;
using ProofDesk.Web.Advice;
using ProofDesk.Web.Api;
using ProofDesk.Web.Audit;
using ProofDesk.Web.Compare;
using ProofDesk.Web.Devices;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Layout;
using ProofDesk.Web.LightTable;
using ProofDesk.Web.Operations;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Presses;
using ProofDesk.Web.Production;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Rates;
using ProofDesk.Web.Records;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Reviews;
using ProofDesk.Web.Security;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.SignIn;
using ProofDesk.Web.Tickets;
using ProofDesk.Web.Verifier;
using ProofDesk.Web.Versions;
using ProofDesk.Web.Wardrobe;

namespace ProofDesk.Web.Start;

/// <summary>What the server is made of: one line a feature.</summary>
public static class Server
{
    /// <param name="replace">exchanges services, for tests</param>
    public static WebApplication Build(string[] args, Action<IServiceCollection>? replace = null)
    {
        var builder = WebApplication.CreateBuilder(
            new WebApplicationOptions
            {
                Args = args,
                ContentRootPath = AppContext.BaseDirectory,
                // Pages are found in this assembly whoever started the process, tests too.
                ApplicationName = typeof(Server).Assembly.GetName().Name,
            }
        );
        builder.WebHost.ConfigureKestrel(o => o.AddServerHeader = false);
        var settings = builder.Configuration.GetSection("Server").Get<ServerSettings>() ?? new ServerSettings();
        if (settings.GarmentPixelsPerMm is < 0.5 or > 10)
            throw new InvalidOperationException(
                $"Server:GarmentPixelsPerMm is {settings.GarmentPixelsPerMm}, must be 0.5 to 10"
            );
        var office = builder.Configuration.GetSection("Office").Get<OfficeSettings>() ?? new OfficeSettings();
        builder.WebHost.ConfigureKestrel(o => o.Limits.MaxRequestBodySize = settings.MostBodyBytes);

        OperationsFeature.Listen(builder.WebHost, settings);

        var services = builder.Services;
        services.AddSingleton(settings);
        var shipped = GarmentCatalogue.Load(GarmentCatalogue.ShippedFolder).Garments;
        services.AddSingleton(provider => new Garments(shipped, provider.GetRequiredService<ShopGarments>()));
        services.AddSingleton(new ArtDecoder());
        services.AddOffice(office, RendersFeature.Handler, CompareFeature.Handler);
        services.AddScoped<FirstStart>();
        var views = new FeatureViews();
        services.AddControllersWithViews(o =>
        {
            o.Conventions.Add(views);
            o.Filters.Add<BusyFilter>();
        });
        services.Configure<RazorViewEngineOptions>(o => o.ViewLocationExpanders.Add(views));
        SecurityFeature.Add(services, settings);
        SignInFeature.Add(services, settings);
        RightPolicies.Add(services);
        AccountFeature.Add(services);
        OperationsFeature.Add(services);
        InksFeature.Add(services);
        PressesFeature.Add(services);
        DevicesFeature.Add(services);
        WardrobeFeature.Add(services);
        RatesFeature.Add(services);
        AdviceFeature.Add(services);
        OrdersFeature.Add(services, settings);
        RendersFeature.Add(services);
        ProofsFeature.Add(services);
        LightTableFeature.Add(services);
        VersionsFeature.Add(services);
        TicketsFeature.Add(services);
        ReviewsFeature.Add(services);
        RecordsFeature.Add(services);
        ProductionFeature.Add(services);
        VerifierFeature.Add(services);
        AuditFeature.Add(services);
        CompareFeature.Add(services);
        ApiFeature.Add(services);

        replace?.Invoke(services);

        var app = builder.Build();
        app.Services.GetRequiredService<MeasuredNumbers>();
        SecurityFeature.Use(app);
        app.UseStaticFiles(
            new StaticFileOptions
            {
                // Addresses carry the file's version, so a file under an address never changes.
                OnPrepareResponse = served => served.Context.Response.Headers.CacheControl = "public, max-age=86400",
            }
        );
        app.UseRouting();
        app.UseAuthentication();
        app.UseMiddleware<PersonLookup>();
        app.UseAuthorization();
        app.MapControllers();
        return app;
    }

    /// <summary>Opens database and log, seeds the first start, and says where the desk is.</summary>
    public static async Task PrepareAsync(WebApplication app)
    {
        await app.Services.OpenOfficeAsync();
        await using var scope = app.Services.CreateAsyncScope();
        await scope.ServiceProvider.GetRequiredService<FirstStart>().RunAsync(Console.Out);
    }
}
