using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class CabinClasses : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "Classes",
                table: "Layouts",
                type: "text",
                nullable: false,
                defaultValue: "[]");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "Classes",
                table: "Layouts");
        }
    }
}
