using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class FleetSeals : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "SealedHeads",
                columns: table => new
                {
                    Index = table.Column<long>(type: "INTEGER", nullable: false),
                    Seal = table.Column<int>(type: "INTEGER", nullable: false),
                    Chain = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    Number = table.Column<long>(type: "INTEGER", nullable: false),
                    Hash = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SealedHeads", x => x.Index);
                });

            migrationBuilder.CreateTable(
                name: "Seals",
                columns: table => new
                {
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Leaves = table.Column<long>(type: "INTEGER", nullable: false),
                    Root = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Seals", x => x.Number);
                });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "SealedHeads");

            migrationBuilder.DropTable(
                name: "Seals");
        }
    }
}
