using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class WarningsAndSheets : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "Returns",
                table: "Turns",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.CreateTable(
                name: "Acknowledgements",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    Turn = table.Column<Guid>(type: "uuid", nullable: false),
                    Signer = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Person = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    SheetHash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Acknowledgements", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "CalendarFeeds",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Person = table.Column<Guid>(type: "uuid", nullable: false),
                    Station = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: true),
                    SecretHash = table.Column<string>(type: "text", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    RevokedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_CalendarFeeds", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Follows",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Person = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: true),
                    Station = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: true),
                    LeadHours = table.Column<string>(type: "text", nullable: false),
                    ByMail = table.Column<bool>(type: "boolean", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Follows", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Warnings",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Person = table.Column<Guid>(type: "uuid", nullable: false),
                    Defect = table.Column<Guid>(type: "uuid", nullable: false),
                    Deferral = table.Column<Guid>(type: "uuid", nullable: false),
                    LeadHours = table.Column<int>(type: "integer", nullable: false),
                    DueAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Words = table.Column<string>(type: "text", nullable: false),
                    ByMail = table.Column<bool>(type: "boolean", nullable: false),
                    MadeAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    SeenAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    MailBegunAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    MailedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    MailTries = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Warnings", x => x.Id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Acknowledgements_Turn",
                table: "Acknowledgements",
                column: "Turn");

            migrationBuilder.CreateIndex(
                name: "IX_CalendarFeeds_SecretHash",
                table: "CalendarFeeds",
                column: "SecretHash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Follows_Person",
                table: "Follows",
                column: "Person");

            migrationBuilder.CreateIndex(
                name: "IX_Warnings_MadeAt",
                table: "Warnings",
                column: "MadeAt",
                filter: "\"ByMail\" AND \"MailedAt\" IS NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Warnings_Person_Deferral_LeadHours_DueAt",
                table: "Warnings",
                columns: new[] { "Person", "Deferral", "LeadHours", "DueAt" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Warnings_Person_MadeAt",
                table: "Warnings",
                columns: new[] { "Person", "MadeAt" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Acknowledgements");

            migrationBuilder.DropTable(
                name: "CalendarFeeds");

            migrationBuilder.DropTable(
                name: "Follows");

            migrationBuilder.DropTable(
                name: "Warnings");

            migrationBuilder.DropColumn(
                name: "Returns",
                table: "Turns");
        }
    }
}
