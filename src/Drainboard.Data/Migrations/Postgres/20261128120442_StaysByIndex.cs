using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class StaysByIndex : Migration
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
