using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
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
                type: "INTEGER",
                nullable: false,
                defaultValue: 75);

            migrationBuilder.AddColumn<string>(
                name: "Advice",
                table: "Installations",
                type: "TEXT",
                nullable: false,
                defaultValue: "{}");

            migrationBuilder.CreateTable(
                name: "Pours",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tail = table.Column<Guid>(type: "TEXT", nullable: false),
                    Position = table.Column<string>(type: "TEXT", maxLength: 12, nullable: false),
                    Defect = table.Column<Guid>(type: "TEXT", nullable: true),
                    Moment = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    Measure = table.Column<string>(type: "TEXT", nullable: false),
                    Milliseconds = table.Column<long>(type: "INTEGER", nullable: false),
                    UncertaintyMilliseconds = table.Column<int>(type: "INTEGER", nullable: false),
                    Run = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    IsReference = table.Column<bool>(type: "INTEGER", nullable: false),
                    Reference = table.Column<Guid>(type: "TEXT", nullable: true),
                    ReferenceMilliseconds = table.Column<long>(type: "INTEGER", nullable: true),
                    ReferenceUncertaintyMilliseconds = table.Column<int>(type: "INTEGER", nullable: true),
                    SlowPercent = table.Column<int>(type: "INTEGER", nullable: false),
                    PouredAt = table.Column<long>(type: "INTEGER", nullable: false),
                    RecordedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    By = table.Column<Guid>(type: "TEXT", nullable: false),
                    ByName = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false)
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
