using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class StaysAndListsByIndex : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Turns_Station_EstimatedDeparture",
                table: "Turns");

            migrationBuilder.DropIndex(
                name: "IX_Turns_Tail_EstimatedDeparture",
                table: "Turns");

            migrationBuilder.CreateIndex(
                name: "IX_Turns_Station_EstimatedDeparture_EstimatedArrival",
                table: "Turns",
                columns: new[] { "Station", "EstimatedDeparture", "EstimatedArrival" });

            migrationBuilder.CreateIndex(
                name: "IX_Turns_Tail_EstimatedDeparture_EstimatedArrival",
                table: "Turns",
                columns: new[] { "Tail", "EstimatedDeparture", "EstimatedArrival" });

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
                name: "IX_Turns_Station_EstimatedDeparture_EstimatedArrival",
                table: "Turns");

            migrationBuilder.DropIndex(
                name: "IX_Turns_Tail_EstimatedDeparture_EstimatedArrival",
                table: "Turns");

            migrationBuilder.DropIndex(
                name: "IX_Defects_RecordedAt_Number",
                table: "Defects");

            migrationBuilder.DropIndex(
                name: "IX_Defects_Tail_ClosedAt",
                table: "Defects");

            migrationBuilder.CreateIndex(
                name: "IX_Turns_Station_EstimatedDeparture",
                table: "Turns",
                columns: new[] { "Station", "EstimatedDeparture" });

            migrationBuilder.CreateIndex(
                name: "IX_Turns_Tail_EstimatedDeparture",
                table: "Turns",
                columns: new[] { "Tail", "EstimatedDeparture" });
        }
    }
}
