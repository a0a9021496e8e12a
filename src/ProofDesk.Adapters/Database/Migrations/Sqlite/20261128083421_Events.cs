using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ProofDesk.Adapters.Database.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class Events : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<long>(
                name: "CodeFromValueMinor",
                table: "shop",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Currency",
                table: "shop",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<int>(
                name: "MailsPerDay",
                table: "shop",
                type: "INTEGER",
                nullable: false,
                defaultValue: 200);

            migrationBuilder.AddColumn<int>(
                name: "RemindAfterDays",
                table: "shop",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<string>(
                name: "CausedBy",
                table: "outbox_mail",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "EvidenceAsked",
                table: "orders",
                type: "TEXT",
                maxLength: 24,
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "HeldSince",
                table: "orders",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "HeldWhy",
                table: "orders",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<Guid>(
                name: "RepeatOfVersionId",
                table: "orders",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "SampleAsked",
                table: "orders",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<string>(
                name: "SecondApprover",
                table: "orders",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<long>(
                name: "ValueMinor",
                table: "orders",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "DecisionId",
                table: "invitation",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "NoReminders",
                table: "invitation",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<Guid>(
                name: "PassedOnFromId",
                table: "invitation",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Flags",
                table: "decision",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "Role",
                table: "AspNetUsers",
                type: "TEXT",
                maxLength: 24,
                nullable: false,
                defaultValue: "Owner");

            migrationBuilder.CreateTable(
                name: "AspNetUserPasskeys",
                columns: table => new
                {
                    CredentialId = table.Column<byte[]>(type: "BLOB", maxLength: 1024, nullable: false),
                    UserId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Data = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_AspNetUserPasskeys", x => x.CredentialId);
                    table.ForeignKey(
                        name: "FK_AspNetUserPasskeys_AspNetUsers_UserId",
                        column: x => x.UserId,
                        principalTable: "AspNetUsers",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "log_epoch",
                columns: table => new
                {
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    Origin = table.Column<string>(type: "TEXT", nullable: false),
                    FromSize = table.Column<long>(type: "INTEGER", nullable: false),
                    OpenedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    LostNote = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_log_epoch", x => x.Number);
                    table.CheckConstraint("ck_log_epoch_number", "\"Number\" > 0");
                });

            migrationBuilder.CreateTable(
                name: "log_key",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    VerifierKey = table.Column<string>(type: "TEXT", nullable: false),
                    FromSize = table.Column<long>(type: "INTEGER", nullable: false),
                    RevokedFromSize = table.Column<long>(type: "INTEGER", nullable: true),
                    AddedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    RevokedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    RowVersion = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_log_key", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "mail_return",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    ReportId = table.Column<string>(type: "TEXT", nullable: false),
                    MailId = table.Column<Guid>(type: "TEXT", nullable: true),
                    Action = table.Column<string>(type: "TEXT", nullable: false),
                    Status = table.Column<string>(type: "TEXT", nullable: false),
                    Diagnostic = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_mail_return", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "mailed_code",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    InvitationId = table.Column<Guid>(type: "TEXT", nullable: false),
                    VersionId = table.Column<Guid>(type: "TEXT", nullable: false),
                    CodeHash = table.Column<string>(type: "TEXT", nullable: false),
                    IssuedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    ExpiresAt = table.Column<long>(type: "INTEGER", nullable: false),
                    Tries = table.Column<int>(type: "INTEGER", nullable: false),
                    EnteredAt = table.Column<long>(type: "INTEGER", nullable: true),
                    UsedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    RowVersion = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_mailed_code", x => x.Id);
                    table.ForeignKey(
                        name: "FK_mailed_code_invitation_InvitationId",
                        column: x => x.InvitationId,
                        principalTable: "invitation",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "rate_count",
                columns: table => new
                {
                    Key = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    WindowStart = table.Column<long>(type: "INTEGER", nullable: false),
                    Count = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_rate_count", x => new { x.Key, x.WindowStart });
                });

            migrationBuilder.CreateTable(
                name: "reminder",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: false),
                    VersionId = table.Column<Guid>(type: "TEXT", nullable: false),
                    InvitationId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_reminder", x => x.Id);
                    table.CheckConstraint("ck_reminder_number", "\"Number\" BETWEEN 1 AND 3");
                    table.ForeignKey(
                        name: "FK_reminder_invitation_InvitationId",
                        column: x => x.InvitationId,
                        principalTable: "invitation",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "seat_taken",
                columns: table => new
                {
                    VersionId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Seat = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    DecisionId = table.Column<Guid>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_seat_taken", x => new { x.VersionId, x.Seat });
                    table.ForeignKey(
                        name: "FK_seat_taken_decision_DecisionId",
                        column: x => x.DecisionId,
                        principalTable: "decision",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_seat_taken_proof_version_VersionId",
                        column: x => x.VersionId,
                        principalTable: "proof_version",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "shop_event",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: true),
                    VersionId = table.Column<Guid>(type: "TEXT", nullable: true),
                    SubjectId = table.Column<Guid>(type: "TEXT", nullable: true),
                    Actor = table.Column<string>(type: "TEXT", nullable: false),
                    EventBytes = table.Column<byte[]>(type: "BLOB", nullable: false),
                    EventSha256 = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    LeafIndex = table.Column<long>(type: "INTEGER", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_shop_event", x => x.Id);
                    table.ForeignKey(
                        name: "FK_shop_event_log_leaf_LeafIndex",
                        column: x => x.LeafIndex,
                        principalTable: "log_leaf",
                        principalColumn: "Index",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_shop_event_orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_shop_event_proof_version_VersionId",
                        column: x => x.VersionId,
                        principalTable: "proof_version",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "staff_invitation",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Email = table.Column<string>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Role = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    TokenSha256 = table.Column<byte[]>(type: "BLOB", nullable: false),
                    InvitedBy = table.Column<string>(type: "TEXT", nullable: false),
                    CreatedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    ExpiresAt = table.Column<long>(type: "INTEGER", nullable: false),
                    UsedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    RevokedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    RowVersion = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_staff_invitation", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "staff_session",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    KeySha256 = table.Column<byte[]>(type: "BLOB", nullable: false),
                    UserId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Ticket = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Network = table.Column<string>(type: "TEXT", nullable: false),
                    Agent = table.Column<string>(type: "TEXT", nullable: false),
                    CreatedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    LastSeenAt = table.Column<long>(type: "INTEGER", nullable: false),
                    ExpiresAt = table.Column<long>(type: "INTEGER", nullable: false),
                    EndedAt = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_staff_session", x => x.Id);
                    table.ForeignKey(
                        name: "FK_staff_session_AspNetUsers_UserId",
                        column: x => x.UserId,
                        principalTable: "AspNetUsers",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateIndex(
                name: "IX_AspNetUserPasskeys_UserId",
                table: "AspNetUserPasskeys",
                column: "UserId");

            migrationBuilder.CreateIndex(
                name: "IX_log_epoch_Origin",
                table: "log_epoch",
                column: "Origin",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_log_key_VerifierKey",
                table: "log_key",
                column: "VerifierKey",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_mail_return_MailId",
                table: "mail_return",
                column: "MailId");

            migrationBuilder.CreateIndex(
                name: "IX_mail_return_ReportId",
                table: "mail_return",
                column: "ReportId",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_mailed_code_InvitationId_IssuedAt",
                table: "mailed_code",
                columns: new[] { "InvitationId", "IssuedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_reminder_InvitationId",
                table: "reminder",
                column: "InvitationId");

            migrationBuilder.CreateIndex(
                name: "IX_reminder_VersionId_InvitationId_Number",
                table: "reminder",
                columns: new[] { "VersionId", "InvitationId", "Number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_seat_taken_DecisionId",
                table: "seat_taken",
                column: "DecisionId",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_shop_event_LeafIndex",
                table: "shop_event",
                column: "LeafIndex",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_shop_event_OrderId_At",
                table: "shop_event",
                columns: new[] { "OrderId", "At" });

            migrationBuilder.CreateIndex(
                name: "IX_shop_event_SubjectId",
                table: "shop_event",
                column: "SubjectId");

            migrationBuilder.CreateIndex(
                name: "IX_shop_event_VersionId",
                table: "shop_event",
                column: "VersionId");

            migrationBuilder.CreateIndex(
                name: "IX_staff_invitation_TokenSha256",
                table: "staff_invitation",
                column: "TokenSha256",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_staff_session_KeySha256",
                table: "staff_session",
                column: "KeySha256",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_staff_session_UserId",
                table: "staff_session",
                column: "UserId");

            foreach (var guard in Guards.EventsSqlite())
            {
                migrationBuilder.Sql(guard);
            }
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "AspNetUserPasskeys");

            migrationBuilder.DropTable(
                name: "log_epoch");

            migrationBuilder.DropTable(
                name: "log_key");

            migrationBuilder.DropTable(
                name: "mail_return");

            migrationBuilder.DropTable(
                name: "mailed_code");

            migrationBuilder.DropTable(
                name: "rate_count");

            migrationBuilder.DropTable(
                name: "reminder");

            migrationBuilder.DropTable(
                name: "seat_taken");

            migrationBuilder.DropTable(
                name: "shop_event");

            migrationBuilder.DropTable(
                name: "staff_invitation");

            migrationBuilder.DropTable(
                name: "staff_session");

            migrationBuilder.DropColumn(
                name: "CodeFromValueMinor",
                table: "shop");

            migrationBuilder.DropColumn(
                name: "Currency",
                table: "shop");

            migrationBuilder.DropColumn(
                name: "MailsPerDay",
                table: "shop");

            migrationBuilder.DropColumn(
                name: "RemindAfterDays",
                table: "shop");

            migrationBuilder.DropColumn(
                name: "CausedBy",
                table: "outbox_mail");

            migrationBuilder.DropColumn(
                name: "EvidenceAsked",
                table: "orders");

            migrationBuilder.DropColumn(
                name: "HeldSince",
                table: "orders");

            migrationBuilder.DropColumn(
                name: "HeldWhy",
                table: "orders");

            migrationBuilder.DropColumn(
                name: "RepeatOfVersionId",
                table: "orders");

            migrationBuilder.DropColumn(
                name: "SampleAsked",
                table: "orders");

            migrationBuilder.DropColumn(
                name: "SecondApprover",
                table: "orders");

            migrationBuilder.DropColumn(
                name: "ValueMinor",
                table: "orders");

            migrationBuilder.DropColumn(
                name: "DecisionId",
                table: "invitation");

            migrationBuilder.DropColumn(
                name: "NoReminders",
                table: "invitation");

            migrationBuilder.DropColumn(
                name: "PassedOnFromId",
                table: "invitation");

            migrationBuilder.DropColumn(
                name: "Flags",
                table: "decision");

            migrationBuilder.DropColumn(
                name: "Role",
                table: "AspNetUsers");
        }
    }
}
