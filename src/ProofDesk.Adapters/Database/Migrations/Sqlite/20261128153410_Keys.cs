using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ProofDesk.Adapters.Database.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class Keys : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<bool>(
                name: "SecondStepForAll",
                table: "shop",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.CreateTable(
                name: "api_key",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", maxLength: 60, nullable: false),
                    Scope = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    SecretSha256 = table.Column<byte[]>(type: "BLOB", nullable: false),
                    MadeBy = table.Column<string>(type: "TEXT", nullable: false),
                    CreatedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    ExpiresAt = table.Column<long>(type: "INTEGER", nullable: false),
                    LastUsedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    EndedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    EndedBy = table.Column<string>(type: "TEXT", nullable: false),
                    RowVersion = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_api_key", x => x.Id);
                    table.CheckConstraint("ck_api_key_secret", "length(\"SecretSha256\") = 32");
                });

            migrationBuilder.CreateTable(
                name: "api_answer",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    KeyId = table.Column<Guid>(type: "TEXT", nullable: false),
                    NameSha256 = table.Column<byte[]>(type: "BLOB", nullable: false),
                    RequestSha256 = table.Column<byte[]>(type: "BLOB", nullable: false),
                    Status = table.Column<int>(type: "INTEGER", nullable: false),
                    ContentType = table.Column<string>(type: "TEXT", nullable: false),
                    Location = table.Column<string>(type: "TEXT", nullable: false),
                    ETag = table.Column<string>(type: "TEXT", nullable: false),
                    Body = table.Column<byte[]>(type: "BLOB", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_api_answer", x => x.Id);
                    table.ForeignKey(
                        name: "FK_api_answer_api_key_KeyId",
                        column: x => x.KeyId,
                        principalTable: "api_key",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_api_answer_At",
                table: "api_answer",
                column: "At");

            migrationBuilder.CreateIndex(
                name: "IX_api_answer_KeyId_NameSha256",
                table: "api_answer",
                columns: new[] { "KeyId", "NameSha256" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_api_key_Name",
                table: "api_key",
                column: "Name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_api_key_SecretSha256",
                table: "api_key",
                column: "SecretSha256",
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "api_answer");

            migrationBuilder.DropTable(
                name: "api_key");

            migrationBuilder.DropColumn(
                name: "SecondStepForAll",
                table: "shop");
        }
    }
}
