using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class ListsByIndex : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateIndex(
                name: "IX_Defects_RecordedAt_Number",
                table: "Defects",
                columns: new[] { "RecordedAt", "Number" });

            migrationBuilder.CreateIndex(
                name: "IX_Defects_Tail_ClosedAt",
                table: "Defects",
                columns: new[] { "Tail", "ClosedAt" },
                filter: "\"ClosedAt\" IS NOT NULL");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Defects_RecordedAt_Number",
                table: "Defects");

            migrationBuilder.DropIndex(
                name: "IX_Defects_Tail_ClosedAt",
                table: "Defects");
        }
    }
}
