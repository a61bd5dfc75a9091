using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
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
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    Check = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    Number = table.Column<int>(type: "integer", nullable: false),
                    Position = table.Column<string>(type: "character varying(12)", maxLength: 12, nullable: true),
                    Outcome = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Report = table.Column<Guid>(type: "uuid", nullable: true),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    By = table.Column<Guid>(type: "uuid", nullable: false),
                    ByName = table.Column<string>(type: "text", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    TakenBackAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    TakenBackBy = table.Column<string>(type: "text", nullable: false),
                    TakenBackWhy = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    IsNewest = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ChecksDone", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "PlannedChecks",
                columns: table => new
                {
                    Code = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    Number = table.Column<int>(type: "integer", nullable: false),
                    Terms = table.Column<string>(type: "text", nullable: false),
                    IsRetired = table.Column<bool>(type: "boolean", nullable: false),
                    Since = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    SavedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    SavedBy = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PlannedChecks", x => new { x.Code, x.Number });
                });

            migrationBuilder.CreateTable(
                name: "StandTemperatures",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Station = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: false),
                    Celsius = table.Column<int>(type: "integer", nullable: false),
                    From = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Until = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    IsExpected = table.Column<bool>(type: "boolean", nullable: false),
                    ByName = table.Column<string>(type: "text", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
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
