using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class PotableWater : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "WaterProgramme",
                table: "Tails",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.CreateTable(
                name: "SampleSets",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tail = table.Column<Guid>(type: "TEXT", nullable: false),
                    Purpose = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    Case = table.Column<Guid>(type: "TEXT", nullable: true),
                    CollectedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    Samples = table.Column<string>(type: "TEXT", nullable: false),
                    By = table.Column<Guid>(type: "TEXT", nullable: false),
                    ByName = table.Column<string>(type: "TEXT", nullable: false),
                    RecordedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    VoidedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    VoidedWhy = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SampleSets", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "WaterCases",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tail = table.Column<Guid>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    ToldAt = table.Column<long>(type: "INTEGER", nullable: false),
                    CanShutOff = table.Column<bool>(type: "INTEGER", nullable: false),
                    From = table.Column<Guid>(type: "TEXT", nullable: true),
                    Words = table.Column<string>(type: "TEXT", maxLength: 400, nullable: false),
                    Way = table.Column<string>(type: "TEXT", maxLength: 3, nullable: false),
                    Done = table.Column<string>(type: "TEXT", nullable: false),
                    OpenedBy = table.Column<string>(type: "TEXT", nullable: false),
                    RecordedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    EndedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    EndedBy = table.Column<string>(type: "TEXT", nullable: false),
                    EndedWhy = table.Column<string>(type: "TEXT", nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_WaterCases", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "WaterDeeds",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tail = table.Column<Guid>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Item = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    Corrects = table.Column<Guid>(type: "TEXT", nullable: true),
                    Words = table.Column<string>(type: "TEXT", maxLength: 400, nullable: false),
                    By = table.Column<Guid>(type: "TEXT", nullable: false),
                    ByName = table.Column<string>(type: "TEXT", nullable: false),
                    RecordedAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_WaterDeeds", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "WaterProgrammes",
                columns: table => new
                {
                    Code = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    Terms = table.Column<string>(type: "TEXT", nullable: false),
                    SavedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    SavedBy = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_WaterProgrammes", x => new { x.Code, x.Number });
                });

            migrationBuilder.CreateIndex(
                name: "IX_SampleSets_Tail_CollectedAt",
                table: "SampleSets",
                columns: new[] { "Tail", "CollectedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_WaterCases_Tail_EndedAt",
                table: "WaterCases",
                columns: new[] { "Tail", "EndedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_WaterDeeds_Corrects",
                table: "WaterDeeds",
                column: "Corrects",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_WaterDeeds_Tail_Kind_At",
                table: "WaterDeeds",
                columns: new[] { "Tail", "Kind", "At" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "SampleSets");

            migrationBuilder.DropTable(
                name: "WaterCases");

            migrationBuilder.DropTable(
                name: "WaterDeeds");

            migrationBuilder.DropTable(
                name: "WaterProgrammes");

            migrationBuilder.DropColumn(
                name: "WaterProgramme",
                table: "Tails");
        }
    }
}
