using System.Text.Json;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace ProofDesk.Adapters.Database;

/// <summary>Keys, lengths, uniqueness and checks. What an index is for stands beside it.</summary>
internal static class OfficeModel
{
    private const int HexSha256 = 64;

    public static void Configure(ModelBuilder model)
    {
        Orders(model);
        Versions(model);
        Record(model);
        Work(model);
        Events(model);
        People(model);
        Sheets(model);
        foreach (
            var type in model.Model.GetEntityTypes().Where(type => typeof(IVersioned).IsAssignableFrom(type.ClrType))
        )
        {
            type.FindProperty(nameof(IVersioned.RowVersion))!.IsConcurrencyToken = true;
        }
    }

    private static void Orders(ModelBuilder model)
    {
        model.Entity<ShopSettings>(shop =>
        {
            shop.ToTable("shop", table => table.HasCheckConstraint("ck_shop_one", "\"Id\" = 1"));
            shop.Property(row => row.Id).ValueGeneratedNever();
        });
        model.Entity<ShopDefinition>(definition =>
        {
            definition.ToTable(
                "shop_definition",
                table => table.HasCheckConstraint("ck_shop_definition_version", "\"Version\" > 0")
            );
            definition.Property(row => row.Key).HasMaxLength(100);
            definition
                .HasIndex(row => new
                {
                    row.Kind,
                    row.Key,
                    row.Version,
                })
                .IsUnique();
        });
        model.Entity<Client>(client =>
        {
            client.ToTable("client");
            client.Property(row => row.Name).HasMaxLength(200);
            client.Property(row => row.Email).HasMaxLength(320);
        });
        model.Entity<Order>(order =>
        {
            order.ToTable("orders");
            order.Property(row => row.Title).HasMaxLength(200);
            order.HasIndex(row => row.Number).IsUnique();
            order.HasIndex(row => new { row.State, row.InHandsDate });
            order
                .HasOne(row => row.Client)
                .WithMany(row => row.Orders)
                .HasForeignKey(row => row.ClientId)
                .OnDelete(DeleteBehavior.Restrict);
            order.HasMany(row => row.Prints).WithOne().HasForeignKey(row => row.OrderId);
            order.HasMany(row => row.Lines).WithOne().HasForeignKey(row => row.OrderId);
            order
                .HasMany(row => row.Versions)
                .WithOne(row => row.Order)
                .HasForeignKey(row => row.OrderId)
                .OnDelete(DeleteBehavior.Restrict);
        });
        model.Entity<OrderPrint>(print =>
        {
            print.ToTable("order_print", table => table.HasCheckConstraint("ck_order_print_width", "\"WidthUm\" > 0"));
            print.Property(row => row.ArtSha256).HasMaxLength(HexSha256);
        });
        model.Entity<OrderLine>(line =>
        {
            line.ToTable("order_line");
            line.HasMany(row => row.Counts).WithOne().HasForeignKey(row => row.LineId);
        });
        model.Entity<LineCount>(count =>
        {
            count.ToTable("line_count", table => table.HasCheckConstraint("ck_line_count", "\"Count\" >= 0"));
            count.HasIndex(row => new { row.LineId, row.Size }).IsUnique();
        });
    }

    private static void Versions(ModelBuilder model)
    {
        model.Entity<ProofVersion>(version =>
        {
            version.ToTable(
                "proof_version",
                table =>
                    table.HasCheckConstraint(
                        "ck_proof_version_bound",
                        "\"State\" IN ('Draft','Rendering','Failed') OR (\"ManifestSha256\" IS NOT NULL AND \"ManifestBytes\" IS NOT NULL)"
                    )
            );
            version.HasIndex(row => new { row.OrderId, row.Number }).IsUnique();
            version.Property(row => row.ManifestSha256).HasMaxLength(HexSha256);
            version
                .Property(row => row.StatementTexts)
                .HasConversion(
                    texts => JsonSerializer.Serialize(texts, JsonSerializerOptions.Default),
                    json =>
                        JsonSerializer.Deserialize<SortedDictionary<string, string>>(
                            json,
                            JsonSerializerOptions.Default
                        )!,
                    new ValueComparer<SortedDictionary<string, string>>(
                        (one, other) => one!.SequenceEqual(other!),
                        texts => texts.Count,
                        texts => new SortedDictionary<string, string>(texts, StringComparer.Ordinal)
                    )
                );
            version
                .HasMany(row => row.Files)
                .WithOne()
                .HasForeignKey(row => row.VersionId)
                .OnDelete(DeleteBehavior.Restrict);
        });
        model.Entity<VersionFile>(file =>
        {
            file.ToTable("version_file");
            file.HasIndex(row => new { row.VersionId, row.Path }).IsUnique();
            // The picture route asks "is this digest in a version this visitor may see".
            file.HasIndex(row => row.Sha256);
            file.Property(row => row.Sha256).HasMaxLength(HexSha256);
            file.Property(row => row.Sha512).HasMaxLength(2 * HexSha256);
        });
        model.Entity<Invitation>(invitation =>
        {
            invitation.ToTable(
                "invitation",
                table => table.HasCheckConstraint("ck_invitation_token", "length(\"TokenSha256\") = 32")
            );
            invitation.HasIndex(row => row.TokenSha256).IsUnique();
            invitation
                .HasOne(row => row.Order)
                .WithMany()
                .HasForeignKey(row => row.OrderId)
                .OnDelete(DeleteBehavior.Restrict);
            Restrict<Invitation, ProofVersion>(invitation, row => row.VersionId);
        });
        model.Entity<ViewCount>(view =>
        {
            view.ToTable("view_count");
            view.HasKey(row => new { row.InvitationId, row.VersionId });
        });
    }

    private static void Record(ModelBuilder model)
    {
        model.Entity<LogLeaf>(leaf =>
        {
            leaf.ToTable(
                "log_leaf",
                table => table.HasCheckConstraint("ck_log_leaf_hash", "length(\"LeafHash\") = 32")
            );
            leaf.HasKey(row => row.Index);
            leaf.Property(row => row.Index).ValueGeneratedNever();
            leaf.HasIndex(row => row.Ref);
        });
        model.Entity<LogHead>(head =>
        {
            head.ToTable("log_head", table => table.HasCheckConstraint("ck_log_head_one", "\"Id\" = 1"));
            head.Property(row => row.Id).ValueGeneratedNever();
            head.HasData(new LogHead { LastAt = DateTimeOffset.UnixEpoch });
        });
        model.Entity<LogCheckpoint>(checkpoint =>
        {
            checkpoint.ToTable("log_checkpoint");
            checkpoint.HasKey(row => row.Size);
            checkpoint.Property(row => row.Size).ValueGeneratedNever();
        });
        model.Entity<Decision>(decision =>
        {
            decision.ToTable("decision");
            decision.HasIndex(row => row.Nonce).IsUnique();
            decision.HasIndex(row => row.LeafIndex).IsUnique();
            decision.HasIndex(row => row.OrderId);
            decision
                .HasOne(row => row.Version)
                .WithMany()
                .HasForeignKey(row => row.VersionId)
                .OnDelete(DeleteBehavior.Restrict);
            Restrict<Decision, LogLeaf>(decision, row => row.LeafIndex);
            Restrict<Decision, Order>(decision, row => row.OrderId);
            decision
                .HasOne<Invitation>()
                .WithMany()
                .HasForeignKey(row => row.InvitationId)
                .OnDelete(DeleteBehavior.Restrict);
        });
        model.Entity<DecisionSlot>(slot =>
        {
            slot.ToTable("decision_slot");
            slot.HasKey(row => row.VersionId);
            slot.HasIndex(row => row.DecisionId).IsUnique();
            slot.HasOne<ProofVersion>()
                .WithMany()
                .HasForeignKey(row => row.VersionId)
                .OnDelete(DeleteBehavior.Restrict);
            slot.HasOne(row => row.Decision)
                .WithMany()
                .HasForeignKey(row => row.DecisionId)
                .OnDelete(DeleteBehavior.Restrict);
        });
        model.Entity<AuditEvent>(audit =>
        {
            audit.ToTable("audit_event");
            audit.HasIndex(row => new { row.OrderId, row.At });
        });
    }

    private static void Work(ModelBuilder model)
    {
        model.Entity<OutboxMail>(mail =>
        {
            mail.ToTable("outbox_mail");
            // The claim: due rows, oldest first.
            mail.HasIndex(row => new { row.State, row.NextAttemptAt });
            mail.HasIndex(row => row.OrderId);
        });
        model.Entity<RenderWork>(work =>
        {
            work.ToTable("render_work");
            work.HasIndex(row => new
            {
                row.State,
                row.Priority,
                row.Id,
            });
            work.HasIndex(row => row.VersionId);
            Restrict<RenderWork, ProofVersion>(work, row => row.VersionId);
        });
    }

    private static void Events(ModelBuilder model)
    {
        model.Entity<LoggedEvent>(happened =>
        {
            happened.ToTable("shop_event");
            happened.HasIndex(row => row.LeafIndex).IsUnique();
            happened.HasIndex(row => new { row.OrderId, row.At });
            happened.HasIndex(row => row.SubjectId);
            happened.Property(row => row.EventSha256).HasMaxLength(HexSha256);
            Restrict<LoggedEvent, LogLeaf>(happened, row => row.LeafIndex);
            Restrict<LoggedEvent, Order>(happened, row => row.OrderId);
            Restrict<LoggedEvent, ProofVersion>(happened, row => row.VersionId);
        });
        model.Entity<SeatTaken>(seat =>
        {
            seat.ToTable("seat_taken");
            seat.HasKey(row => new { row.VersionId, row.Seat });
            seat.HasIndex(row => row.DecisionId).IsUnique();
            Restrict<SeatTaken, ProofVersion>(seat, row => row.VersionId);
            Restrict<SeatTaken, Decision>(seat, row => row.DecisionId);
        });
        model.Entity<LogEpoch>(epoch =>
        {
            epoch.ToTable("log_epoch", table => table.HasCheckConstraint("ck_log_epoch_number", "\"Number\" > 0"));
            epoch.HasKey(row => row.Number);
            epoch.Property(row => row.Number).ValueGeneratedNever();
            epoch.HasIndex(row => row.Origin).IsUnique();
        });
        model.Entity<LogKey>(key =>
        {
            key.ToTable("log_key");
            key.HasIndex(row => row.VerifierKey).IsUnique();
        });
        model.Entity<MailedCode>(code =>
        {
            code.ToTable("mailed_code");
            code.HasIndex(row => new { row.InvitationId, row.IssuedAt });
            Restrict<MailedCode, Invitation>(code, row => row.InvitationId);
        });
        model.Entity<Reminder>(reminder =>
        {
            reminder.ToTable(
                "reminder",
                table => table.HasCheckConstraint("ck_reminder_number", $"\"Number\" BETWEEN 1 AND {Reminder.Most}")
            );
            reminder
                .HasIndex(row => new
                {
                    row.VersionId,
                    row.InvitationId,
                    row.Number,
                })
                .IsUnique();
            Restrict<Reminder, Invitation>(reminder, row => row.InvitationId);
        });
        model.Entity<MailReturn>(report =>
        {
            report.ToTable("mail_return");
            report.HasIndex(row => row.ReportId).IsUnique();
            report.HasIndex(row => row.MailId);
        });
    }

    private static void Sheets(ModelBuilder model)
    {
        model.Entity<CompareSheet>(sheet =>
        {
            sheet.ToTable("compare_sheet");
            sheet.Property(row => row.Title).HasMaxLength(200);
            sheet.Property(row => row.ArtSha256).HasMaxLength(HexSha256);
            sheet.HasIndex(row => row.CreatedAt);
            Restrict<CompareSheet, Order>(sheet, row => row.OrderId);
            sheet
                .HasMany(row => row.Cells)
                .WithOne()
                .HasForeignKey(row => row.SheetId)
                .OnDelete(DeleteBehavior.Restrict);
        });
        model.Entity<SheetCell>(cell =>
        {
            cell.ToTable("sheet_cell");
            // The claim: due cells, oldest first.
            cell.HasIndex(row => new { row.State, row.Id });
            cell.HasIndex(row => new { row.SheetId, row.Position }).IsUnique();
            cell.Property(row => row.PrintSha256).HasMaxLength(HexSha256);
            cell.Property(row => row.GarmentSha256).HasMaxLength(HexSha256);
        });
        model.Entity<SheetLink>(link =>
        {
            link.ToTable(
                "sheet_link",
                table => table.HasCheckConstraint("ck_sheet_link_token", "length(\"TokenSha256\") = 32")
            );
            link.HasIndex(row => row.TokenSha256).IsUnique();
            Restrict<SheetLink, CompareSheet>(link, row => row.SheetId);
        });
        model.Entity<SheetPreference>(preference =>
        {
            preference.ToTable("sheet_preference");
            // One word a link: saying another takes its place.
            preference.HasKey(row => row.LinkId);
            preference.Property(row => row.Name).HasMaxLength(200);
            Restrict<SheetPreference, SheetLink>(preference, row => row.LinkId);
            Restrict<SheetPreference, CompareSheet>(preference, row => row.SheetId);
            Restrict<SheetPreference, SheetCell>(preference, row => row.CellId);
        });
    }

    private static void People(ModelBuilder model)
    {
        // As the third schema of ASP.NET Core Identity has it.
        model.Entity<IdentityUserPasskey<Guid>>(passkey =>
        {
            passkey.ToTable("AspNetUserPasskeys");
            passkey.HasKey(row => row.CredentialId);
            passkey.Property(row => row.CredentialId).HasMaxLength(1024);
            passkey.OwnsOne(row => row.Data).ToJson();
            passkey.HasOne<StaffUser>().WithMany().HasForeignKey(row => row.UserId).OnDelete(DeleteBehavior.Cascade);
        });
        model.Entity<RateCount>(count =>
        {
            count.ToTable("rate_count");
            count.HasKey(row => new { row.Key, row.WindowStart });
            count.Property(row => row.Key).HasMaxLength(200);
        });
        model.Entity<StaffInvitation>(invitation =>
        {
            invitation.ToTable("staff_invitation");
            invitation.HasIndex(row => row.TokenSha256).IsUnique();
        });
        model.Entity<ApiKey>(key =>
        {
            key.ToTable(
                "api_key",
                table => table.HasCheckConstraint("ck_api_key_secret", "length(\"SecretSha256\") = 32")
            );
            key.Property(row => row.Name).HasMaxLength(ApiKey.LongestName);
            key.HasIndex(row => row.Name).IsUnique();
            key.HasIndex(row => row.SecretSha256).IsUnique();
        });
        model.Entity<ApiAnswer>(answer =>
        {
            answer.ToTable("api_answer");
            answer.HasIndex(row => new { row.KeyId, row.NameSha256 }).IsUnique();
            answer.HasIndex(row => row.At);
            answer.HasOne<ApiKey>().WithMany().HasForeignKey(row => row.KeyId).OnDelete(DeleteBehavior.Restrict);
        });
        model.Entity<StaffSession>(session =>
        {
            session.ToTable("staff_session");
            session.HasIndex(row => row.KeySha256).IsUnique();
            session.HasIndex(row => row.UserId);
            session.HasOne<StaffUser>().WithMany().HasForeignKey(row => row.UserId).OnDelete(DeleteBehavior.Cascade);
        });
    }

    private static void Restrict<TRow, TTarget>(
        EntityTypeBuilder<TRow> row,
        System.Linq.Expressions.Expression<Func<TRow, object?>> foreignKey
    )
        where TRow : class
        where TTarget : class =>
        row.HasOne<TTarget>().WithMany().HasForeignKey(foreignKey).OnDelete(DeleteBehavior.Restrict);
}
