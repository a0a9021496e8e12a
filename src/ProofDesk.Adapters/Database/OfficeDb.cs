using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// The one model. Two derived contexts carry a migration set each and nothing else. No provider function appears in it:
/// ids are version 7 UUIDs made by us, times are integers, row versions are counted by <see cref="SaveChangesAsync(bool, CancellationToken)"/>.
/// </summary>
public abstract class OfficeDb(DbContextOptions options)
    : IdentityDbContext<StaffUser, IdentityRole<Guid>, Guid>(options)
{
    public DbSet<ShopSettings> Shop => Set<ShopSettings>();
    public DbSet<Client> Clients => Set<Client>();
    public DbSet<Order> Orders => Set<Order>();
    public DbSet<OrderPrint> OrderPrints => Set<OrderPrint>();
    public DbSet<OrderLine> OrderLines => Set<OrderLine>();
    public DbSet<LineCount> LineCounts => Set<LineCount>();
    public DbSet<ProofVersion> ProofVersions => Set<ProofVersion>();
    public DbSet<VersionFile> VersionFiles => Set<VersionFile>();
    public DbSet<Invitation> Invitations => Set<Invitation>();
    public DbSet<Decision> Decisions => Set<Decision>();
    public DbSet<DecisionSlot> DecisionSlots => Set<DecisionSlot>();
    public DbSet<LogLeaf> LogLeaves => Set<LogLeaf>();
    public DbSet<LogHead> LogHeads => Set<LogHead>();
    public DbSet<LogCheckpoint> LogCheckpoints => Set<LogCheckpoint>();
    public DbSet<OutboxMail> OutboxMails => Set<OutboxMail>();
    public DbSet<RenderWork> RenderWork => Set<RenderWork>();
    public DbSet<AuditEvent> AuditEvents => Set<AuditEvent>();
    public DbSet<ViewCount> ViewCounts => Set<ViewCount>();
    public DbSet<ShopDefinition> ShopDefinitions => Set<ShopDefinition>();
    public DbSet<LoggedEvent> LoggedEvents => Set<LoggedEvent>();
    public DbSet<SeatTaken> SeatsTaken => Set<SeatTaken>();
    public DbSet<LogEpoch> LogEpochs => Set<LogEpoch>();
    public DbSet<LogKey> LogKeys => Set<LogKey>();
    public DbSet<MailedCode> MailedCodes => Set<MailedCode>();
    public DbSet<Reminder> Reminders => Set<Reminder>();
    public DbSet<MailReturn> MailReturns => Set<MailReturn>();
    public DbSet<RateCount> RateCounts => Set<RateCount>();
    public DbSet<StaffInvitation> StaffInvitations => Set<StaffInvitation>();
    public DbSet<StaffSession> StaffSessions => Set<StaffSession>();
    public DbSet<CompareSheet> CompareSheets => Set<CompareSheet>();
    public DbSet<SheetCell> SheetCells => Set<SheetCell>();
    public DbSet<SheetLink> SheetLinks => Set<SheetLink>();
    public DbSet<SheetPreference> SheetPreferences => Set<SheetPreference>();
    public DbSet<ApiKey> ApiKeys => Set<ApiKey>();
    public DbSet<ApiAnswer> ApiAnswers => Set<ApiAnswer>();

    public override int SaveChanges(bool acceptAllChangesOnSuccess)
    {
        CountRowVersions();
        return base.SaveChanges(acceptAllChangesOnSuccess);
    }

    public override Task<int> SaveChangesAsync(
        bool acceptAllChangesOnSuccess,
        CancellationToken cancellationToken = default
    )
    {
        CountRowVersions();
        return base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
    }

    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        configurationBuilder.Properties<DateTimeOffset>().HaveConversion<UtcMicroseconds>();
        configurationBuilder.Properties<Enum>().HaveConversion<string>().HaveMaxLength(24);
    }

    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        OfficeModel.Configure(builder);
    }

    private void CountRowVersions()
    {
        foreach (var entry in ChangeTracker.Entries<IVersioned>())
        {
            if (entry.State == EntityState.Modified)
            {
                entry.Entity.RowVersion++;
            }
        }
    }
}

public sealed class SqliteOfficeDb(DbContextOptions<SqliteOfficeDb> options) : OfficeDb(options);

public sealed class PostgresOfficeDb(DbContextOptions<PostgresOfficeDb> options) : OfficeDb(options);
