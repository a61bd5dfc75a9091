using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class ShiftPlans : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "ShiftPlans",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Station = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: false),
                    From = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    To = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Content = table.Column<string>(type: "text", nullable: false),
                    GivenBy = table.Column<Guid>(type: "uuid", nullable: false),
                    GivenByName = table.Column<string>(type: "text", nullable: false),
                    GivenAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ShiftPlans", x => x.Id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_ShiftPlans_Station_From",
                table: "ShiftPlans",
                columns: new[] { "Station", "From" },
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "ShiftPlans");
        }
    }
}
