using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ProofDesk.Adapters.Database.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class PrintWords : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "Words",
                table: "order_print",
                type: "text",
                nullable: false,
                defaultValue: "");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "Words",
                table: "order_print");
        }
    }
}
