using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class RecordStands : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("""CREATE TRIGGER record_stands_unchanged BEFORE UPDATE ON "Record" BEGIN SELECT RAISE(ABORT, 'Entries of the record are never changed; a correction is another entry.'); END;""");
            migrationBuilder.Sql("""CREATE TRIGGER record_stands_whole BEFORE DELETE ON "Record" BEGIN SELECT RAISE(ABORT, 'Entries of the record are never removed.'); END;""");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("DROP TRIGGER record_stands_unchanged;");
            migrationBuilder.Sql("DROP TRIGGER record_stands_whole;");
        }
    }
}
