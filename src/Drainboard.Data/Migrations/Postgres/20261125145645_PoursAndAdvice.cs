using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class PoursAndAdvice : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "SlowPercent",
                table: "Stations",
                type: "integer",
                nullable: false,
                defaultValue: 75);

            migrationBuilder.AddColumn<string>(
                name: "Advice",
                table: "Installations",
                type: "text",
                nullable: false,
                defaultValue: "{}");

            migrationBuilder.CreateTable(
                name: "Pours",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    Position = table.Column<string>(type: "character varying(12)", maxLength: 12, nullable: false),
                    Defect = table.Column<Guid>(type: "uuid", nullable: true),
                    Moment = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Measure = table.Column<string>(type: "text", nullable: false),
                    Milliseconds = table.Column<long>(type: "bigint", nullable: false),
                    UncertaintyMilliseconds = table.Column<int>(type: "integer", nullable: false),
                    Run = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    IsReference = table.Column<bool>(type: "boolean", nullable: false),
                    Reference = table.Column<Guid>(type: "uuid", nullable: true),
                    ReferenceMilliseconds = table.Column<long>(type: "bigint", nullable: true),
                    ReferenceUncertaintyMilliseconds = table.Column<int>(type: "integer", nullable: true),
                    SlowPercent = table.Column<int>(type: "integer", nullable: false),
                    PouredAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    By = table.Column<Guid>(type: "uuid", nullable: false),
                    ByName = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Pours", x => x.Id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Work_Tail_FoundAt_CompletedAt",
                table: "Work",
                columns: new[] { "Tail", "FoundAt", "CompletedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Pours_Defect",
                table: "Pours",
                column: "Defect");

            migrationBuilder.CreateIndex(
                name: "IX_Pours_Tail_Position_PouredAt",
                table: "Pours",
                columns: new[] { "Tail", "Position", "PouredAt" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Pours");

            migrationBuilder.DropIndex(
                name: "IX_Work_Tail_FoundAt_CompletedAt",
                table: "Work");

            migrationBuilder.DropColumn(
                name: "SlowPercent",
                table: "Stations");

            migrationBuilder.DropColumn(
                name: "Advice",
                table: "Installations");
        }
    }
}
