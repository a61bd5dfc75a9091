using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class WaterTakenOut : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_WaterDeeds_Corrects",
                table: "WaterDeeds");

            migrationBuilder.AddColumn<Instant>(
                name: "VoidedAt",
                table: "WaterDeeds",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "VoidedWhy",
                table: "WaterDeeds",
                type: "character varying(200)",
                maxLength: 200,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<Instant>(
                name: "RepeatsAt",
                table: "WaterCases",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.CreateIndex(
                name: "IX_WaterDeeds_Corrects",
                table: "WaterDeeds",
                column: "Corrects");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_WaterDeeds_Corrects",
                table: "WaterDeeds");

            migrationBuilder.DropColumn(
                name: "VoidedAt",
                table: "WaterDeeds");

            migrationBuilder.DropColumn(
                name: "VoidedWhy",
                table: "WaterDeeds");

            migrationBuilder.DropColumn(
                name: "RepeatsAt",
                table: "WaterCases");

            migrationBuilder.CreateIndex(
                name: "IX_WaterDeeds_Corrects",
                table: "WaterDeeds",
                column: "Corrects",
                unique: true);
        }
    }
}
