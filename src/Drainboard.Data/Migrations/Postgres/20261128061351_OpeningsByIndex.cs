using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class OpeningsByIndex : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateIndex(
                name: "IX_Work_Openings",
                table: "Work",
                columns: new[] { "Tail", "CompletedAt", "FoundAt" },
                filter: "\"Found\" <> 'Nothing' AND \"ReturnReason\" = ''");

            migrationBuilder.CreateIndex(
                name: "IX_Pours_Tail_PouredAt_WithdrawnAt",
                table: "Pours",
                columns: new[] { "Tail", "PouredAt", "WithdrawnAt" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Work_Openings",
                table: "Work");

            migrationBuilder.DropIndex(
                name: "IX_Pours_Tail_PouredAt_WithdrawnAt",
                table: "Pours");
        }
    }
}
