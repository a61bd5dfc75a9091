using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class Tanks : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "Tanks",
                table: "Installations",
                type: "text",
                nullable: false,
                defaultValue: "{}");

            migrationBuilder.CreateTable(
                name: "LayoutTanks",
                columns: table => new
                {
                    Layout = table.Column<string>(type: "text", nullable: false),
                    PotableLitres = table.Column<int>(type: "integer", nullable: false),
                    WasteLitres = table.Column<int>(type: "integer", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_LayoutTanks", x => x.Layout);
                });

            migrationBuilder.CreateTable(
                name: "PotableUplifts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Litres = table.Column<int>(type: "integer", nullable: false),
                    IsFull = table.Column<bool>(type: "boolean", nullable: false),
                    Source = table.Column<string>(type: "character varying(80)", maxLength: 80, nullable: false),
                    Leak = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    By = table.Column<Guid>(type: "uuid", nullable: false),
                    ByName = table.Column<string>(type: "text", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PotableUplifts", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "WasteServices",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    LitresOut = table.Column<int>(type: "integer", nullable: true),
                    PrechargeLitres = table.Column<int>(type: "integer", nullable: false),
                    Leak = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    By = table.Column<Guid>(type: "uuid", nullable: false),
                    ByName = table.Column<string>(type: "text", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_WasteServices", x => x.Id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_PotableUplifts_Tail_At",
                table: "PotableUplifts",
                columns: new[] { "Tail", "At" });

            migrationBuilder.CreateIndex(
                name: "IX_WasteServices_Tail_At",
                table: "WasteServices",
                columns: new[] { "Tail", "At" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "LayoutTanks");

            migrationBuilder.DropTable(
                name: "PotableUplifts");

            migrationBuilder.DropTable(
                name: "WasteServices");

            migrationBuilder.DropColumn(
                name: "Tanks",
                table: "Installations");
        }
    }
}
