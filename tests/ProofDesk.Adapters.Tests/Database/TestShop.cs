using System.Text;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>A shop with nothing in it, on one engine, in a folder of its own, at a clock that stands still.</summary>
internal sealed class TestShop : IAsyncDisposable
{
    public static readonly DateTimeOffset Start = new(2026, 11, 24, 9, 0, 0, TimeSpan.Zero);

    /// <summary>Of the art every order here is made with.</summary>
    public const string ArtSha256 = "e561aa936f78c1ab69f025e60b5f01d1f891c5fa36ad42e436c453d10af74d19";

    private ServiceProvider _services;
    private bool _keepFolder;

    private TestShop(OfficeSettings settings)
    {
        Settings = settings;
        _services = Build();
    }

    public OfficeSettings Settings { get; }
    public FakeTimeProvider Time { get; } = new(Start);
    public RenderHandler Render { get; set; } = (job, _, _) => Task.FromResult<RenderOutcome>(SampleProof.Done(job));

    public Office Office => Get<Office>();
    public DataFolder Folder => Get<DataFolder>();
    public OrderBook Orders => Get<OrderBook>();
    public RenderQueue Renders => Get<RenderQueue>();
    public Sending Sending => Get<Sending>();
    public Deciding Deciding => Get<Deciding>();
    public Invitations Invitations => Get<Invitations>();
    public Outbox Outbox => Get<Outbox>();
    public Releases Releases => Get<Releases>();
    public MailedCodes Codes => Get<MailedCodes>();
    public Disputes Disputes => Get<Disputes>();
    public Records Records => Get<Records>();
    public LogKeeper Log => Get<LogKeeper>();
    public EventLog Events => Get<EventLog>();

    public static async Task<TestShop> OpenAsync(Engine engine, Action<OfficeSettings>? change = null)
    {
        var settings = await SettingsAsync(engine);
        change?.Invoke(settings);
        var shop = new TestShop(settings);
        await shop._services.OpenOfficeAsync();
        await shop.AddShopRowAsync();
        return shop;
    }

    /// <summary>A shop that is already there, or whose folder is made now.</summary>
    public static async Task<TestShop> ReopenAsync(OfficeSettings settings, bool keepFolder = false)
    {
        var shop = new TestShop(settings) { _keepFolder = keepFolder };
        await shop._services.OpenOfficeAsync();
        return shop;
    }

    /// <summary>The row that says who the shop is, unless it is there.</summary>
    public Task AddShopRowAsync() =>
        Office.WriteAsync(async db =>
        {
            if (await db.Shop.AnyAsync())
            {
                return;
            }
            db.Shop.Add(
                new ShopSettings
                {
                    Name = "Lindhag Screen Works",
                    Address = "Quay 4",
                    Phone = "555 0100",
                    ReplyTo = "desk@lindhag.example",
                    PublicBaseUrl = "https://proofs.lindhag.example",
                }
            );
            await db.SaveChangesAsync();
        });

    public static async Task<OfficeSettings> SettingsAsync(Engine engine) =>
        new()
        {
            DataFolder = engine == Engine.Sqlite ? await MigratedCopyAsync() : NewFolder(),
            PostgresConnection =
                engine == Engine.Postgres ? await PostgresServer.OrSkip().NewDatabaseAsync(migrated: true) : "",
            LogOrigin = "lindhag.example/proofs/1",
            UndoSeconds = 0,
        };

    /// <summary>Settings of a shop whose database does not exist yet, so that its start runs every migration.</summary>
    public static async Task<OfficeSettings> EmptySettingsAsync(Engine engine) =>
        new()
        {
            DataFolder = NewFolder(),
            PostgresConnection =
                engine == Engine.Postgres ? await PostgresServer.OrSkip().NewDatabaseAsync(migrated: false) : "",
            UndoSeconds = 0,
        };

    public T Get<T>()
        where T : notnull => _services.GetRequiredService<T>();

    /// <summary>The process ends and starts again; rows and files are all that is left.</summary>
    public async Task RestartAsync()
    {
        await _services.DisposeAsync();
        _services = Build();
        await _services.OpenOfficeAsync();
    }

    public async Task<Guid> NewOrderAsync(string title = "Regatta tee")
    {
        await Get<IFileStore>().PutAsync(new MemoryStream("two oars"u8.ToArray()));
        var client = await Orders.AddClientAsync("Harbour Rowing Club", "kit@harbour.example", "", "anna");
        return await Orders.CreateAsync(
            new OrderDraft(
                title,
                client,
                new DateOnly(2026, 12, 18),
                new DateOnly(2026, 12, 1),
                "",
                [
                    new OrderPrint
                    {
                        Name = "Oars",
                        ArtSha256 = ArtSha256,
                        ArtFileName = "oars.svg",
                        Place = "front",
                        FromSeamUm = 75_000,
                        WidthUm = 280_000,
                        Method = "plastisol",
                    },
                ],
                [
                    new OrderLine
                    {
                        GarmentId = "tee",
                        ColourId = "navy",
                        Counts = [new LineCount { Size = "M", Count = 40 }, new LineCount { Size = "L", Count = 25 }],
                    },
                ]
            ),
            "anna"
        );
    }

    /// <summary>Asks for a version of the order and renders it.</summary>
    public async Task<Guid> FrozenVersionAsync(Guid? order = null)
    {
        var version = await Renders.AskAsync(order ?? await NewOrderAsync(), "{}", "anna");
        Assert.True(await Get<RenderRunner>().RunOneAsync("test", CancellationToken.None));
        return version;
    }

    public async Task<SentProof> SentVersionAsync(Guid? order = null)
    {
        var version = await FrozenVersionAsync(order);
        var sent = await Sending.SendAsync(
            new SendRequest(version, [new LinkRecipient("kit@harbour.example", "Kim")], "", "anna")
        );
        var ids = Assert.IsType<SendResult.Sent>(sent);
        var text = await Outbox.TextOfAsync(ids.MailIds[0]);
        var token = Regex.Match(text!, "/r/([A-Za-z0-9_-]+)\n").Groups[1].Value;
        await using var db = Office.Open();
        var manifest = await db
            .ProofVersions.Where(row => row.Id == version)
            .Select(row => row.ManifestSha256)
            .SingleAsync();
        return new SentProof(version, ids.InvitationIds[0], ids.MailIds[0], token, manifest!);
    }

    public static DecisionRequest Approval(SentProof proof, string nonce = "n1", string name = "Kim Harbour") =>
        new(proof.InvitationId, DecisionKind.Approve, proof.Manifest, nonce, name, "en", Confirmations.All, []);

    public static DecisionRequest Changes(SentProof proof, string nonce = "n1") =>
        Approval(proof, nonce) with
        {
            Kind = DecisionKind.Changes,
            Confirmed = Confirmations.None,
            Changes = [new ChangeRequest("word \"REGATA\"", "is spelled REGATTA")],
        };

    public async Task<int> CountAsync<T>()
        where T : class
    {
        await using var db = Office.Open();
        return await db.Set<T>().CountAsync();
    }

    /// <summary>Ends and leaves its files.</summary>
    public ValueTask CloseAsync() => _services.DisposeAsync();

    public async ValueTask DisposeAsync()
    {
        await _services.DisposeAsync();
        if (!_keepFolder)
        {
            Directory.Delete(Settings.DataFolder, recursive: true);
        }
    }

    // Migrating takes longer than most tests, so it is done once a run and its result copied.
    private static readonly Lazy<Task<string>> Migrated = new(async () =>
    {
        var settings = await EmptySettingsAsync(Engine.Sqlite);
        var folder = new DataFolder(settings.DataFolder);
        using var office = new Office(settings, folder);
        using var opening = new OfficeOpening(office, folder);
        await opening.OpenAsync();
        var copy = Path.Combine(settings.DataFolder, "migrated.db");
        await using var db = office.Open();
        await db.Database.ExecuteSqlAsync($"VACUUM INTO {copy}");
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(settings.DataFolder, recursive: true);
        return copy;
    });

    private static string NewFolder() => Directory.CreateTempSubdirectory("proofdesk-test-").FullName;

    private static async Task<string> MigratedCopyAsync()
    {
        var folder = NewFolder();
        File.Copy(await Migrated.Value, new DataFolder(folder).Database);
        return folder;
    }

    private ServiceProvider Build()
    {
        var services = new ServiceCollection();
        services.AddLogging();
        services.AddSingleton<TimeProvider>(Time);
        services.AddOffice(Settings, _ => (job, progress, cancel) => Render(job, progress, cancel));
        return services.BuildServiceProvider();
    }
}

internal sealed record SentProof(Guid VersionId, Guid InvitationId, Guid MailId, string Token, string Manifest);
