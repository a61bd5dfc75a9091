using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
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
                type: "text",
                nullable: false,
                defaultValue: "");

            migrationBuilder.CreateTable(
                name: "SampleSets",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    Purpose = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Case = table.Column<Guid>(type: "uuid", nullable: true),
                    CollectedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Samples = table.Column<string>(type: "text", nullable: false),
                    By = table.Column<Guid>(type: "uuid", nullable: false),
                    ByName = table.Column<string>(type: "text", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    VoidedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    VoidedWhy = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SampleSets", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "WaterCases",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    Kind = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    ToldAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    CanShutOff = table.Column<bool>(type: "boolean", nullable: false),
                    From = table.Column<Guid>(type: "uuid", nullable: true),
                    Words = table.Column<string>(type: "character varying(400)", maxLength: 400, nullable: false),
                    Way = table.Column<string>(type: "character varying(3)", maxLength: 3, nullable: false),
                    Done = table.Column<string>(type: "text", nullable: false),
                    OpenedBy = table.Column<string>(type: "text", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    EndedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    EndedBy = table.Column<string>(type: "text", nullable: false),
                    EndedWhy = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_WaterCases", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "WaterDeeds",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    Kind = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Item = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false),
                    Corrects = table.Column<Guid>(type: "uuid", nullable: true),
                    Words = table.Column<string>(type: "character varying(400)", maxLength: 400, nullable: false),
                    By = table.Column<Guid>(type: "uuid", nullable: false),
                    ByName = table.Column<string>(type: "text", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_WaterDeeds", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "WaterProgrammes",
                columns: table => new
                {
                    Code = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    Number = table.Column<int>(type: "integer", nullable: false),
                    Terms = table.Column<string>(type: "text", nullable: false),
                    SavedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    SavedBy = table.Column<string>(type: "text", nullable: false)
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
