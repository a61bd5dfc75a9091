using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class RecordStands : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql(
                """
                CREATE FUNCTION record_stands() RETURNS trigger LANGUAGE plpgsql AS $$
                BEGIN
                  RAISE EXCEPTION 'Entries of the record are never changed or removed; a correction is another entry.';
                END $$;
                CREATE TRIGGER record_stands BEFORE UPDATE OR DELETE ON "Record" FOR EACH ROW EXECUTE FUNCTION record_stands();
                CREATE TRIGGER record_stands_whole BEFORE TRUNCATE ON "Record" FOR EACH STATEMENT EXECUTE FUNCTION record_stands();
                """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("""DROP TRIGGER record_stands ON "Record"; DROP TRIGGER record_stands_whole ON "Record"; DROP FUNCTION record_stands();""");
        }
    }
}
