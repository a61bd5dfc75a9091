using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
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

            migrationBuilder.AddColumn<long>(
                name: "VoidedAt",
                table: "WaterDeeds",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "VoidedWhy",
                table: "WaterDeeds",
                type: "TEXT",
                maxLength: 200,
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<long>(
                name: "RepeatsAt",
                table: "WaterCases",
                type: "INTEGER",
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
