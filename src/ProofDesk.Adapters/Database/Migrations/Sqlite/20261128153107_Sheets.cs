using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ProofDesk.Adapters.Database.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class Sheets : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "compare_sheet",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Title = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    OrderId = table.Column<Guid>(type: "TEXT", nullable: true),
                    ArtSha256 = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    ArtFileName = table.Column<string>(type: "TEXT", nullable: false),
                    ArtMediaType = table.Column<string>(type: "TEXT", nullable: false),
                    RequestJson = table.Column<string>(type: "TEXT", nullable: false),
                    CreatedBy = table.Column<string>(type: "TEXT", nullable: false),
                    CreatedAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_compare_sheet", x => x.Id);
                    table.ForeignKey(
                        name: "FK_compare_sheet_orders_OrderId",
                        column: x => x.OrderId,
                        principalTable: "orders",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "sheet_cell",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    SheetId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Position = table.Column<int>(type: "INTEGER", nullable: false),
                    Method = table.Column<string>(type: "TEXT", nullable: false),
                    GarmentId = table.Column<string>(type: "TEXT", nullable: false),
                    ColourId = table.Column<string>(type: "TEXT", nullable: false),
                    Inks = table.Column<int>(type: "INTEGER", nullable: true),
                    State = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    Attempts = table.Column<int>(type: "INTEGER", nullable: false),
                    NotBefore = table.Column<long>(type: "INTEGER", nullable: false),
                    LeaseOwner = table.Column<string>(type: "TEXT", nullable: true),
                    LeaseUntil = table.Column<long>(type: "INTEGER", nullable: true),
                    Run = table.Column<long>(type: "INTEGER", nullable: false),
                    Stage = table.Column<string>(type: "TEXT", nullable: false),
                    PercentDone = table.Column<int>(type: "INTEGER", nullable: false),
                    Error = table.Column<string>(type: "TEXT", nullable: true),
                    PrintSha256 = table.Column<string>(type: "TEXT", maxLength: 64, nullable: true),
                    GarmentSha256 = table.Column<string>(type: "TEXT", maxLength: 64, nullable: true),
                    FactsJson = table.Column<string>(type: "TEXT", nullable: false),
                    CreatedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    FinishedAt = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_sheet_cell", x => x.Id);
                    table.ForeignKey(
                        name: "FK_sheet_cell_compare_sheet_SheetId",
                        column: x => x.SheetId,
                        principalTable: "compare_sheet",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "sheet_link",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    SheetId = table.Column<Guid>(type: "TEXT", nullable: false),
                    TokenSha256 = table.Column<byte[]>(type: "BLOB", nullable: false),
                    ForWhom = table.Column<string>(type: "TEXT", nullable: false),
                    CreatedBy = table.Column<string>(type: "TEXT", nullable: false),
                    CreatedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    ExpiresAt = table.Column<long>(type: "INTEGER", nullable: false),
                    RevokedAt = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_sheet_link", x => x.Id);
                    table.CheckConstraint("ck_sheet_link_token", "length(\"TokenSha256\") = 32");
                    table.ForeignKey(
                        name: "FK_sheet_link_compare_sheet_SheetId",
                        column: x => x.SheetId,
                        principalTable: "compare_sheet",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "sheet_preference",
                columns: table => new
                {
                    LinkId = table.Column<Guid>(type: "TEXT", nullable: false),
                    SheetId = table.Column<Guid>(type: "TEXT", nullable: false),
                    CellId = table.Column<Guid>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    Words = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_sheet_preference", x => x.LinkId);
                    table.ForeignKey(
                        name: "FK_sheet_preference_compare_sheet_SheetId",
                        column: x => x.SheetId,
                        principalTable: "compare_sheet",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_sheet_preference_sheet_cell_CellId",
                        column: x => x.CellId,
                        principalTable: "sheet_cell",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_sheet_preference_sheet_link_LinkId",
                        column: x => x.LinkId,
                        principalTable: "sheet_link",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_compare_sheet_CreatedAt",
                table: "compare_sheet",
                column: "CreatedAt");

            migrationBuilder.CreateIndex(
                name: "IX_compare_sheet_OrderId",
                table: "compare_sheet",
                column: "OrderId");

            migrationBuilder.CreateIndex(
                name: "IX_sheet_cell_SheetId_Position",
                table: "sheet_cell",
                columns: new[] { "SheetId", "Position" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_sheet_cell_State_Id",
                table: "sheet_cell",
                columns: new[] { "State", "Id" });

            migrationBuilder.CreateIndex(
                name: "IX_sheet_link_SheetId",
                table: "sheet_link",
                column: "SheetId");

            migrationBuilder.CreateIndex(
                name: "IX_sheet_link_TokenSha256",
                table: "sheet_link",
                column: "TokenSha256",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_sheet_preference_CellId",
                table: "sheet_preference",
                column: "CellId");

            migrationBuilder.CreateIndex(
                name: "IX_sheet_preference_SheetId",
                table: "sheet_preference",
                column: "SheetId");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "sheet_preference");

            migrationBuilder.DropTable(
                name: "sheet_cell");

            migrationBuilder.DropTable(
                name: "sheet_link");

            migrationBuilder.DropTable(
                name: "compare_sheet");
        }
    }
}
