using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
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
                    Snapshot = table.Column<int>(type: "INTEGER", nullable: false),
                    Rank = table.Column<int>(type: "INTEGER", nullable: false),
                    Scope = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    Tail = table.Column<Guid>(type: "TEXT", nullable: true),
                    Layout = table.Column<string>(type: "TEXT", maxLength: 20, nullable: false),
                    Position = table.Column<string>(type: "TEXT", maxLength: 12, nullable: false),
                    Kind = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    Family = table.Column<string>(type: "TEXT", maxLength: 32, nullable: true),
                    Events = table.Column<int>(type: "INTEGER", nullable: false),
                    Exposure = table.Column<double>(type: "REAL", nullable: false),
                    Rate = table.Column<double>(type: "REAL", nullable: false),
                    Low = table.Column<double>(type: "REAL", nullable: false),
                    High = table.Column<double>(type: "REAL", nullable: false),
                    FleetRate = table.Column<double>(type: "REAL", nullable: false),
                    Ratio = table.Column<double>(type: "REAL", nullable: true),
                    RatioLow = table.Column<double>(type: "REAL", nullable: false),
                    PWorse = table.Column<double>(type: "REAL", nullable: false),
                    PAdjusted = table.Column<double>(type: "REAL", nullable: false),
                    PosteriorMean = table.Column<double>(type: "REAL", nullable: false),
                    Posterior05 = table.Column<double>(type: "REAL", nullable: false),
                    IsFlagged = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Standings", x => new { x.Snapshot, x.Rank });
                });

            migrationBuilder.CreateTable(
                name: "StandingSnapshots",
                columns: table => new
                {
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    From = table.Column<long>(type: "INTEGER", nullable: false),
                    Unit = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    Tested = table.Column<int>(type: "INTEGER", nullable: false),
                    Flagged = table.Column<int>(type: "INTEGER", nullable: false),
                    TailsLeftOut = table.Column<int>(type: "INTEGER", nullable: false)
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
