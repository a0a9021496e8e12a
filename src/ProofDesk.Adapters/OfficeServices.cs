using Microsoft.AspNetCore.DataProtection;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Operations;
using ProofDesk.Adapters.Sheets;
using ProofDesk.Adapters.Work;

namespace ProofDesk.Adapters;

/// <summary>Everything outside the pure projects, in one list.</summary>
public static class OfficeServices
{
    /// <param name="render">the render itself; null leaves renders waiting (for a node that only serves pages)</param>
    /// <param name="cell">makes cells of compare sheets when no render waits; null leaves them</param>
    public static IServiceCollection AddOffice(
        this IServiceCollection services,
        OfficeSettings settings,
        Func<IServiceProvider, RenderHandler>? render = null,
        Func<IServiceProvider, CellHandler>? cell = null
    )
    {
        var folder = new DataFolder(settings.DataFolder);
        services.TryAddSingleton(TimeProvider.System);
        services.AddSingleton(settings).AddSingleton(folder);
        services.AddSingleton<Office>().AddSingleton<OfficeOpening>();
        services.AddSingleton<DiskReserve>().AddHostedService<ReserveKeeper>();
        // One context a request for ASP.NET Core Identity and for reading pages; services open their own.
        services.AddScoped(provider => provider.GetRequiredService<Office>().Open());
        services.AddSingleton<IFileStore>(new FolderFileStore(folder.Blobs));
        services.AddSingleton(new PickupFolder(folder.Pickup));
        services.AddSingleton<Sealing>().AddSingleton<OutboxBell>().AddSingleton<Outbox>();
        services.AddSingleton<OutboxRunner>().AddHostedService<OutboxWorker>();
        services.AddSingleton<MailReturns>().AddHostedService<MailReturnsWorker>();
        services
            .AddSingleton<LogKeeper>()
            .AddSingleton<EventLog>()
            .AddSingleton<LogKeys>()
            .AddSingleton<LogEpochs>()
            .AddSingleton<PersonErasure>()
            .AddSingleton<StaffInvitations>()
            .AddSingleton<StaffRoles>()
            .AddSingleton<OrderBook>()
            .AddSingleton<OrderList>()
            .AddSingleton<ShopDefinitions>()
            .AddSingleton<Invitations>();
        services.AddSingleton<MailedCodes>().AddSingleton<Receipts>().AddSingleton<Flagging>();
        services.AddSingleton<Sessions>().AddSingleton<TryCounts>().AddSingleton<AccountChanges>();
        services.AddSingleton<ApiKeys>().AddSingleton<ApiAnswers>();
        services.AddHostedService<SessionsWorker>();
        services.AddSingleton<Disputes>().AddSingleton<Releases>().AddSingleton<PassingOn>();
        services.AddSingleton<Reminding>().AddHostedService<ReminderWorker>();
        services.AddSingleton<SendUndo>().AddSingleton<Tracking>();
        services.AddSingleton<Sending>().AddSingleton<Deciding>().AddSingleton<Records>();
        services.AddSingleton<RenderBell>().AddSingleton<RenderQueue>().AddSingleton<Freezing>();
        if (render is not null)
        {
            services.AddSingleton(render).AddSingleton<RenderRunner>().AddHostedService<RenderWorker>();
        }
        services.AddSingleton<SheetBook>().AddSingleton<SheetLinks>().AddSingleton<CellQueue>();
        if (cell is not null)
        {
            services.AddSingleton(cell).AddSingleton<CellRunner>();
        }
        services
            .AddDataProtection()
            .SetApplicationName("ProofDesk")
            .PersistKeysToFileSystem(new DirectoryInfo(folder.DataProtectionKeys));
        return services;
    }

    /// <summary>Call before the host starts: lock, schema, log key. Throws with a sentence for the operator.</summary>
    public static async Task OpenOfficeAsync(this IServiceProvider services, CancellationToken cancel = default)
    {
        await services.GetRequiredService<OfficeOpening>().OpenAsync(cancel);
        await services.GetRequiredService<LogKeeper>().OpenAsync(cancel);
    }
}
