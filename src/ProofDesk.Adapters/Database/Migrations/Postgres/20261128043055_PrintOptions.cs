using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ProofDesk.Adapters.Database.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class PrintOptions : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "Options",
                table: "order_print",
                type: "text",
                nullable: false,
                defaultValue: "");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "Options",
                table: "order_print");
        }
    }
}
