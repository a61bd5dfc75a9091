using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class Standings : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "Standings",
                columns: table => new
                {
                    Snapshot = table.Column<int>(type: "integer", nullable: false),
                    Rank = table.Column<int>(type: "integer", nullable: false),
                    Scope = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: true),
                    Layout = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    Position = table.Column<string>(type: "character varying(12)", maxLength: 12, nullable: false),
                    Kind = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Family = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: true),
                    Events = table.Column<int>(type: "integer", nullable: false),
                    Exposure = table.Column<double>(type: "double precision", nullable: false),
                    Rate = table.Column<double>(type: "double precision", nullable: false),
                    Low = table.Column<double>(type: "double precision", nullable: false),
                    High = table.Column<double>(type: "double precision", nullable: false),
                    FleetRate = table.Column<double>(type: "double precision", nullable: false),
                    Ratio = table.Column<double>(type: "double precision", nullable: true),
                    RatioLow = table.Column<double>(type: "double precision", nullable: false),
                    PWorse = table.Column<double>(type: "double precision", nullable: false),
                    PAdjusted = table.Column<double>(type: "double precision", nullable: false),
                    PosteriorMean = table.Column<double>(type: "double precision", nullable: false),
                    Posterior05 = table.Column<double>(type: "double precision", nullable: false),
                    IsFlagged = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Standings", x => new { x.Snapshot, x.Rank });
                });

            migrationBuilder.CreateTable(
                name: "StandingSnapshots",
                columns: table => new
                {
                    Number = table.Column<int>(type: "integer", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    From = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Unit = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Tested = table.Column<int>(type: "integer", nullable: false),
                    Flagged = table.Column<int>(type: "integer", nullable: false),
                    TailsLeftOut = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_StandingSnapshots", x => x.Number);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Standings_Snapshot_Tail_Position",
                table: "Standings",
                columns: new[] { "Snapshot", "Tail", "Position" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Standings");

            migrationBuilder.DropTable(
                name: "StandingSnapshots");
        }
    }
}
