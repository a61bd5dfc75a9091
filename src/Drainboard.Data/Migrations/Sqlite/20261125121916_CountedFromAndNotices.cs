using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class CountedFromAndNotices : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<long>(
                name: "CountedFrom",
                table: "Deferrals",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "NoticeDueAt",
                table: "Deferrals",
                type: "INTEGER",
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
