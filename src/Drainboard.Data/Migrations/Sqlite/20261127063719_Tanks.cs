using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
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
                type: "TEXT",
                nullable: false,
                defaultValue: "{}");

            migrationBuilder.CreateTable(
                name: "LayoutTanks",
                columns: table => new
                {
                    Layout = table.Column<string>(type: "TEXT", nullable: false),
                    PotableLitres = table.Column<int>(type: "INTEGER", nullable: false),
                    WasteLitres = table.Column<int>(type: "INTEGER", nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_LayoutTanks", x => x.Layout);
                });

            migrationBuilder.CreateTable(
                name: "PotableUplifts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tail = table.Column<Guid>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Litres = table.Column<int>(type: "INTEGER", nullable: false),
                    IsFull = table.Column<bool>(type: "INTEGER", nullable: false),
                    Source = table.Column<string>(type: "TEXT", maxLength: 80, nullable: false),
                    Leak = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    By = table.Column<Guid>(type: "TEXT", nullable: false),
                    ByName = table.Column<string>(type: "TEXT", nullable: false),
                    RecordedAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PotableUplifts", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "WasteServices",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tail = table.Column<Guid>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    LitresOut = table.Column<int>(type: "INTEGER", nullable: true),
                    PrechargeLitres = table.Column<int>(type: "INTEGER", nullable: false),
                    Leak = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    By = table.Column<Guid>(type: "TEXT", nullable: false),
                    ByName = table.Column<string>(type: "TEXT", nullable: false),
                    RecordedAt = table.Column<long>(type: "INTEGER", nullable: false)
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
