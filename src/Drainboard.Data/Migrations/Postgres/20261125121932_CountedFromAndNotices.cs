using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class CountedFromAndNotices : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<Instant>(
                name: "CountedFrom",
                table: "Deferrals",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<Instant>(
                name: "NoticeDueAt",
                table: "Deferrals",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.CreateIndex(
                name: "IX_Deferrals_NoticeDueAt",
                table: "Deferrals",
                column: "NoticeDueAt",
                filter: "\"NoticeDueAt\" IS NOT NULL");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Deferrals_NoticeDueAt",
                table: "Deferrals");

            migrationBuilder.DropColumn(
                name: "CountedFrom",
                table: "Deferrals");

            migrationBuilder.DropColumn(
                name: "NoticeDueAt",
                table: "Deferrals");
        }
    }
}
