using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
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
                    Index = table.Column<long>(type: "bigint", nullable: false),
                    Seal = table.Column<int>(type: "integer", nullable: false),
                    Chain = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    Number = table.Column<long>(type: "bigint", nullable: false),
                    Hash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SealedHeads", x => x.Index);
                });

            migrationBuilder.CreateTable(
                name: "Seals",
                columns: table => new
                {
                    Number = table.Column<int>(type: "integer", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Leaves = table.Column<long>(type: "bigint", nullable: false),
                    Root = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false)
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
