using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class PlannedChecks : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "ChecksDone",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tail = table.Column<Guid>(type: "TEXT", nullable: false),
                    Check = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    Position = table.Column<string>(type: "TEXT", maxLength: 12, nullable: true),
                    Outcome = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    Report = table.Column<Guid>(type: "TEXT", nullable: true),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    By = table.Column<Guid>(type: "TEXT", nullable: false),
                    ByName = table.Column<string>(type: "TEXT", nullable: false),
                    RecordedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    TakenBackAt = table.Column<long>(type: "INTEGER", nullable: true),
                    TakenBackBy = table.Column<string>(type: "TEXT", nullable: false),
                    TakenBackWhy = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    IsNewest = table.Column<bool>(type: "INTEGER", nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ChecksDone", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "PlannedChecks",
                columns: table => new
                {
                    Code = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    Terms = table.Column<string>(type: "TEXT", nullable: false),
                    IsRetired = table.Column<bool>(type: "INTEGER", nullable: false),
                    Since = table.Column<long>(type: "INTEGER", nullable: false),
                    SavedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    SavedBy = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PlannedChecks", x => new { x.Code, x.Number });
                });

            migrationBuilder.CreateTable(
                name: "StandTemperatures",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Station = table.Column<string>(type: "TEXT", maxLength: 4, nullable: false),
                    Celsius = table.Column<int>(type: "INTEGER", nullable: false),
                    From = table.Column<long>(type: "INTEGER", nullable: false),
                    Until = table.Column<long>(type: "INTEGER", nullable: false),
                    IsExpected = table.Column<bool>(type: "INTEGER", nullable: false),
                    ByName = table.Column<string>(type: "TEXT", nullable: false),
                    RecordedAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_StandTemperatures", x => x.Id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_ChecksDone_Newest",
                table: "ChecksDone",
                column: "Tail",
                filter: "\"IsNewest\"");

            migrationBuilder.CreateIndex(
                name: "IX_ChecksDone_Tail_At",
                table: "ChecksDone",
                columns: new[] { "Tail", "At" });

            migrationBuilder.CreateIndex(
                name: "IX_ChecksDone_Tail_Check_Position_At",
                table: "ChecksDone",
                columns: new[] { "Tail", "Check", "Position", "At" });

            migrationBuilder.CreateIndex(
                name: "IX_StandTemperatures_Station_From",
                table: "StandTemperatures",
                columns: new[] { "Station", "From" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "ChecksDone");

            migrationBuilder.DropTable(
                name: "PlannedChecks");

            migrationBuilder.DropTable(
                name: "StandTemperatures");
        }
    }
}
