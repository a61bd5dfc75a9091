using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
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
                type: "TEXT",
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
