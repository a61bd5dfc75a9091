using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class PolicyVersionsAndFlights : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "Policies",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Name = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    Number = table.Column<int>(type: "INTEGER", nullable: false),
                    Terms = table.Column<string>(type: "TEXT", nullable: false),
                    MadeAt = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Policies", x => x.Id);
                });

            EarlierPolicies.KeepLocalDays(migrationBuilder);
            EarlierPolicies.KeepValues(migrationBuilder);

            migrationBuilder.DropColumn(
                name: "TimeBase",
                table: "Installations");

            migrationBuilder.DropColumn(
                name: "TimeBase",
                table: "Deferrals");

            migrationBuilder.RenameColumn(
                name: "PolicyVersion",
                table: "Deferrals",
                newName: "ClockRevision");

            migrationBuilder.RenameColumn(
                name: "PolicyName",
                table: "Deferrals",
                newName: "Policy");

            migrationBuilder.AddColumn<string>(
                name: "DeliveredOn",
                table: "Tails",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Binding",
                table: "Deferrals",
                type: "TEXT",
                maxLength: 32,
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "RenewalOf",
                table: "Deferrals",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "SavedAt",
                table: "Defects",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.CreateIndex(
                name: "IX_Deferrals_Tail_EndedAt",
                table: "Deferrals",
                columns: new[] { "Tail", "EndedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Policies_Name_Number",
                table: "Policies",
                columns: new[] { "Name", "Number" },
                unique: true);

            EarlierPolicies.NameTheBinding(migrationBuilder);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder) =>
            throw new System.NotSupportedException("Deferrals keep their policy itself since this version; the earlier release cannot read that. Restore the copy that was made before the upgrade.");
    }
}
