using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class Network : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "CarriedMinutes",
                table: "Stations",
                type: "integer",
                nullable: false,
                defaultValue: 240);

            migrationBuilder.CreateTable(
                name: "FleetPlans",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Until = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Content = table.Column<string>(type: "text", nullable: false),
                    GivenBy = table.Column<Guid>(type: "uuid", nullable: false),
                    GivenByName = table.Column<string>(type: "text", nullable: false),
                    GivenAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_FleetPlans", x => x.Id);
                });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "FleetPlans");

            migrationBuilder.DropColumn(
                name: "CarriedMinutes",
                table: "Stations");
        }
    }
}
