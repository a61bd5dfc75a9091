using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
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
                type: "TEXT",
                nullable: true,
                oldClrType: typeof(Guid),
                oldType: "TEXT");

            migrationBuilder.AddColumn<Guid>(
                name: "Report",
                table: "Warnings",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "AlsoAt",
                table: "Reports",
                type: "TEXT",
                nullable: false,
                defaultValue: "[]");

            migrationBuilder.AddColumn<Guid>(
                name: "Device",
                table: "Reports",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "DeviceName",
                table: "Reports",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<int>(
                name: "OffsetMinutes",
                table: "Reports",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Others",
                table: "Reports",
                type: "TEXT",
                maxLength: 32,
                nullable: false,
                defaultValue: "DidNotLook");

            migrationBuilder.AddColumn<long>(
                name: "SentAt",
                table: "Reports",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "PinHash",
                table: "People",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "Reports",
                table: "Follows",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.CreateTable(
                name: "CrewNotes",
                columns: table => new
                {
                    Layout = table.Column<string>(type: "TEXT", nullable: false),
                    Area = table.Column<string>(type: "TEXT", nullable: false),
                    Words = table.Column<string>(type: "TEXT", nullable: false),
                    ByName = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_CrewNotes", x => new { x.Layout, x.Area });
                });

            migrationBuilder.CreateTable(
                name: "Devices",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Station = table.Column<string>(type: "TEXT", maxLength: 4, nullable: true),
                    OnlyTail = table.Column<string>(type: "TEXT", nullable: false),
                    CodeHash = table.Column<string>(type: "TEXT", nullable: true),
                    CodeUntil = table.Column<long>(type: "INTEGER", nullable: false),
                    SecretHash = table.Column<string>(type: "TEXT", nullable: true),
                    MadeAt = table.Column<long>(type: "INTEGER", nullable: false),
                    EnrolledAt = table.Column<long>(type: "INTEGER", nullable: true),
                    RevokedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    Version = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Devices", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "PhotoParts",
                columns: table => new
                {
                    Report = table.Column<Guid>(type: "TEXT", nullable: false),
                    Sha256 = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    Offset = table.Column<int>(type: "INTEGER", nullable: false),
                    Length = table.Column<int>(type: "INTEGER", nullable: false),
                    Bytes = table.Column<byte[]>(type: "BLOB", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PhotoParts", x => new { x.Report, x.Sha256, x.Offset });
                });

            migrationBuilder.CreateTable(
                name: "SecretTries",
                columns: table => new
                {
                    Person = table.Column<Guid>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    Tries = table.Column<int>(type: "INTEGER", nullable: false),
                    LockedUntil = table.Column<long>(type: "INTEGER", nullable: true)
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
                type: "TEXT",
                nullable: false,
                defaultValue: new Guid("00000000-0000-0000-0000-000000000000"),
                oldClrType: typeof(Guid),
                oldType: "TEXT",
                oldNullable: true);

            migrationBuilder.AddColumn<long>(
                name: "SigningLockedUntil",
                table: "People",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "SigningTries",
                table: "People",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);
        }
    }
}
