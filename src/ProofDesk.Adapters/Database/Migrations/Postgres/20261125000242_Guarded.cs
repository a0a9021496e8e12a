using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ProofDesk.Adapters.Database.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class Guarded : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            foreach (var guard in Guards.Postgres())
            {
                migrationBuilder.Sql(guard);
            }
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {

        }
    }
}
