using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ProofDesk.Adapters.Database.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class ShopDefinitions : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "shop_definition",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Kind = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false),
                    Key = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false),
                    Json = table.Column<string>(type: "text", nullable: false),
                    CreatedAt = table.Column<long>(type: "bigint", nullable: false),
                    CreatedBy = table.Column<string>(type: "text", nullable: false),
                    RetiredAt = table.Column<long>(type: "bigint", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_shop_definition", x => x.Id);
                    table.CheckConstraint("ck_shop_definition_version", "\"Version\" > 0");
                });

            migrationBuilder.CreateIndex(
                name: "IX_shop_definition_Kind_Key_Version",
                table: "shop_definition",
                columns: new[] { "Kind", "Key", "Version" },
                unique: true);

            foreach (var guard in Guards.DefinitionsPostgres())
            {
                migrationBuilder.Sql(guard);
            }
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "shop_definition");
        }
    }
}
