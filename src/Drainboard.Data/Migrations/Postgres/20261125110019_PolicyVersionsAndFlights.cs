using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
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
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "character varying(24)", maxLength: 24, nullable: false),
                    Number = table.Column<int>(type: "integer", nullable: false),
                    Terms = table.Column<string>(type: "text", nullable: false),
                    MadeAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
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

            migrationBuilder.AddColumn<LocalDate>(
                name: "DeliveredOn",
                table: "Tails",
                type: "date",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Binding",
                table: "Deferrals",
                type: "character varying(32)",
                maxLength: 32,
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "RenewalOf",
                table: "Deferrals",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<Instant>(
                name: "SavedAt",
                table: "Defects",
                type: "timestamp with time zone",
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
