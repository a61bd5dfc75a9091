using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class TurnFit : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "Windows",
                table: "Turns",
                type: "text",
                nullable: false,
                defaultValue: "[]");

            migrationBuilder.AddColumn<string>(
                name: "Fit",
                table: "Installations",
                type: "text",
                nullable: false,
                defaultValue: "{}");

            migrationBuilder.CreateIndex(
                name: "IX_Work_CompletedAt",
                table: "Work",
                column: "CompletedAt");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Work_CompletedAt",
                table: "Work");

            migrationBuilder.DropColumn(
                name: "Windows",
                table: "Turns");

            migrationBuilder.DropColumn(
                name: "Fit",
                table: "Installations");
        }
    }
}
