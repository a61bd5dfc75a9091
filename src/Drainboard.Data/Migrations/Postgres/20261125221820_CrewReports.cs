using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class CrewReports : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "SigningLockedUntil",
                table: "People");

            migrationBuilder.DropColumn(
                name: "SigningTries",
                table: "People");

            migrationBuilder.AlterColumn<Guid>(
                name: "Deferral",
                table: "Warnings",
                type: "uuid",
                nullable: true,
                oldClrType: typeof(Guid),
                oldType: "uuid");

            migrationBuilder.AddColumn<Guid>(
                name: "Report",
                table: "Warnings",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "AlsoAt",
                table: "Reports",
                type: "text",
                nullable: false,
                defaultValue: "[]");

            migrationBuilder.AddColumn<Guid>(
                name: "Device",
                table: "Reports",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "DeviceName",
                table: "Reports",
                type: "text",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<int>(
                name: "OffsetMinutes",
                table: "Reports",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Others",
                table: "Reports",
                type: "character varying(32)",
                maxLength: 32,
                nullable: false,
                defaultValue: "DidNotLook");

            migrationBuilder.AddColumn<Instant>(
                name: "SentAt",
                table: "Reports",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "PinHash",
                table: "People",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "Reports",
                table: "Follows",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.CreateTable(
                name: "CrewNotes",
                columns: table => new
                {
                    Layout = table.Column<string>(type: "text", nullable: false),
                    Area = table.Column<string>(type: "text", nullable: false),
                    Words = table.Column<string>(type: "text", nullable: false),
                    ByName = table.Column<string>(type: "text", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_CrewNotes", x => new { x.Layout, x.Area });
                });

            migrationBuilder.CreateTable(
                name: "Devices",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Station = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: true),
                    OnlyTail = table.Column<string>(type: "text", nullable: false),
                    CodeHash = table.Column<string>(type: "text", nullable: true),
                    CodeUntil = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    SecretHash = table.Column<string>(type: "text", nullable: true),
                    MadeAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    EnrolledAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    RevokedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Devices", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "PhotoParts",
                columns: table => new
                {
                    Report = table.Column<Guid>(type: "uuid", nullable: false),
                    Sha256 = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    Offset = table.Column<int>(type: "integer", nullable: false),
                    Length = table.Column<int>(type: "integer", nullable: false),
                    Bytes = table.Column<byte[]>(type: "bytea", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PhotoParts", x => new { x.Report, x.Sha256, x.Offset });
                });

            migrationBuilder.CreateTable(
                name: "SecretTries",
                columns: table => new
                {
                    Person = table.Column<Guid>(type: "uuid", nullable: false),
                    Kind = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Tries = table.Column<int>(type: "integer", nullable: false),
                    LockedUntil = table.Column<Instant>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SecretTries", x => new { x.Person, x.Kind });
                });

            migrationBuilder.CreateIndex(
                name: "IX_Warnings_Person_Report",
                table: "Warnings",
                columns: new[] { "Person", "Report" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Reports_ReceivedAt",
                table: "Reports",
                column: "ReceivedAt");

            migrationBuilder.CreateIndex(
                name: "IX_Reports_Reporter_ReceivedAt",
                table: "Reports",
                columns: new[] { "Reporter", "ReceivedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Devices_CodeHash",
                table: "Devices",
                column: "CodeHash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Devices_SecretHash",
                table: "Devices",
                column: "SecretHash",
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "CrewNotes");

            migrationBuilder.DropTable(
                name: "Devices");

            migrationBuilder.DropTable(
                name: "PhotoParts");

            migrationBuilder.DropTable(
                name: "SecretTries");

            migrationBuilder.DropIndex(
                name: "IX_Warnings_Person_Report",
                table: "Warnings");

            migrationBuilder.DropIndex(
                name: "IX_Reports_ReceivedAt",
                table: "Reports");

            migrationBuilder.DropIndex(
                name: "IX_Reports_Reporter_ReceivedAt",
                table: "Reports");

            migrationBuilder.DropColumn(
                name: "Report",
                table: "Warnings");

            migrationBuilder.DropColumn(
                name: "AlsoAt",
                table: "Reports");

            migrationBuilder.DropColumn(
                name: "Device",
                table: "Reports");

            migrationBuilder.DropColumn(
                name: "DeviceName",
                table: "Reports");

            migrationBuilder.DropColumn(
                name: "OffsetMinutes",
                table: "Reports");

            migrationBuilder.DropColumn(
                name: "Others",
                table: "Reports");

            migrationBuilder.DropColumn(
                name: "SentAt",
                table: "Reports");

            migrationBuilder.DropColumn(
                name: "PinHash",
                table: "People");

            migrationBuilder.DropColumn(
                name: "Reports",
                table: "Follows");

            migrationBuilder.AlterColumn<Guid>(
                name: "Deferral",
                table: "Warnings",
                type: "uuid",
                nullable: false,
                defaultValue: new Guid("00000000-0000-0000-0000-000000000000"),
                oldClrType: typeof(Guid),
                oldType: "uuid",
                oldNullable: true);

            migrationBuilder.AddColumn<Instant>(
                name: "SigningLockedUntil",
                table: "People",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "SigningTries",
                table: "People",
                type: "integer",
                nullable: false,
                defaultValue: 0);
        }
    }
}
