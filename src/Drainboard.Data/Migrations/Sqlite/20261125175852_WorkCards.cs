using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Drainboard.Data.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class WorkCards : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "Card",
                table: "Work",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "CardCode",
                table: "Work",
                type: "TEXT",
                maxLength: 40,
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "AuthorisationApproval",
                table: "People",
                type: "TEXT",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<string>(
                name: "AuthorisationLimits",
                table: "People",
                type: "TEXT",
                nullable: false,
                defaultValue: "{}");

            migrationBuilder.AddColumn<string>(
                name: "SigningCodeHash",
                table: "People",
                type: "TEXT",
                nullable: true);

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

            migrationBuilder.AddColumn<string>(
                name: "Holder",
                table: "Defects",
                type: "TEXT",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "Disturbed",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Defect = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tail = table.Column<Guid>(type: "TEXT", nullable: false),
                    Job = table.Column<Guid>(type: "TEXT", nullable: true),
                    Step = table.Column<string>(type: "TEXT", maxLength: 24, nullable: true),
                    Kind = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    Words = table.Column<string>(type: "TEXT", nullable: false),
                    ByName = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    LeftWords = table.Column<string>(type: "TEXT", nullable: false),
                    RestoredBy = table.Column<string>(type: "TEXT", nullable: false),
                    RestoredAt = table.Column<long>(type: "INTEGER", nullable: true),
                    Version = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Disturbed", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Handovers",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Station = table.Column<string>(type: "TEXT", maxLength: 4, nullable: false),
                    From = table.Column<long>(type: "INTEGER", nullable: false),
                    Content = table.Column<string>(type: "TEXT", nullable: false),
                    ContentHash = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    Notes = table.Column<string>(type: "TEXT", nullable: false),
                    Outgoing = table.Column<string>(type: "TEXT", nullable: false),
                    Incoming = table.Column<string>(type: "TEXT", nullable: true),
                    SignedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Handovers", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Jobs",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Defect = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tail = table.Column<Guid>(type: "TEXT", nullable: false),
                    Card = table.Column<Guid>(type: "TEXT", nullable: false),
                    CardCode = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    StartedBy = table.Column<Guid>(type: "TEXT", nullable: false),
                    StartedByName = table.Column<string>(type: "TEXT", nullable: false),
                    StartedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    EndedAt = table.Column<long>(type: "INTEGER", nullable: true),
                    Version = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Jobs", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "JobSteps",
                columns: table => new
                {
                    Job = table.Column<Guid>(type: "TEXT", nullable: false),
                    Step = table.Column<string>(type: "TEXT", maxLength: 24, nullable: false),
                    Turn = table.Column<int>(type: "INTEGER", nullable: false),
                    Result = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    Value = table.Column<decimal>(type: "TEXT", nullable: true),
                    Words = table.Column<string>(type: "TEXT", nullable: false),
                    Photo = table.Column<string>(type: "TEXT", maxLength: 64, nullable: true),
                    By = table.Column<Guid>(type: "TEXT", nullable: false),
                    ByName = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    NeedsInspection = table.Column<bool>(type: "INTEGER", nullable: false),
                    Inspection = table.Column<string>(type: "TEXT", nullable: true),
                    IsOutdated = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_JobSteps", x => new { x.Job, x.Step, x.Turn });
                });

            migrationBuilder.CreateTable(
                name: "Parts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Defect = table.Column<Guid>(type: "TEXT", nullable: false),
                    Tail = table.Column<Guid>(type: "TEXT", nullable: false),
                    Position = table.Column<string>(type: "TEXT", maxLength: 12, nullable: false),
                    State = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    PartNumber = table.Column<string>(type: "TEXT", nullable: false),
                    Quantity = table.Column<string>(type: "TEXT", nullable: false),
                    Batch = table.Column<string>(type: "TEXT", nullable: false),
                    Certificate = table.Column<string>(type: "TEXT", nullable: false),
                    NeedsCertificate = table.Column<bool>(type: "INTEGER", nullable: false),
                    Station = table.Column<string>(type: "TEXT", maxLength: 4, nullable: true),
                    ByName = table.Column<string>(type: "TEXT", nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    Version = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Parts", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "WorkCards",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    Code = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false),
                    Title = table.Column<string>(type: "TEXT", maxLength: 80, nullable: false),
                    ManualReference = table.Column<string>(type: "TEXT", maxLength: 80, nullable: false),
                    IsExample = table.Column<bool>(type: "INTEGER", nullable: false),
                    Kinds = table.Column<string>(type: "TEXT", nullable: false),
                    Families = table.Column<string>(type: "TEXT", nullable: false),
                    HasShortForm = table.Column<bool>(type: "INTEGER", nullable: false),
                    Steps = table.Column<string>(type: "TEXT", nullable: false),
                    PublishedAt = table.Column<long>(type: "INTEGER", nullable: false),
                    IsCurrent = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_WorkCards", x => x.Id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Work_CardCode_CompletedAt",
                table: "Work",
                columns: new[] { "CardCode", "CompletedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Disturbed_Defect",
                table: "Disturbed",
                column: "Defect");

            migrationBuilder.CreateIndex(
                name: "IX_Disturbed_Tail_RestoredAt",
                table: "Disturbed",
                columns: new[] { "Tail", "RestoredAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Handovers_Station_SignedAt",
                table: "Handovers",
                columns: new[] { "Station", "SignedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Jobs_Defect",
                table: "Jobs",
                column: "Defect");

            migrationBuilder.CreateIndex(
                name: "IX_Parts_Defect",
                table: "Parts",
                column: "Defect");

            migrationBuilder.CreateIndex(
                name: "IX_Parts_State_Tail",
                table: "Parts",
                columns: new[] { "State", "Tail" });

            migrationBuilder.CreateIndex(
                name: "IX_WorkCards_Code_Version",
                table: "WorkCards",
                columns: new[] { "Code", "Version" },
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "Disturbed");

            migrationBuilder.DropTable(
                name: "Handovers");

            migrationBuilder.DropTable(
                name: "Jobs");

            migrationBuilder.DropTable(
                name: "JobSteps");

            migrationBuilder.DropTable(
                name: "Parts");

            migrationBuilder.DropTable(
                name: "WorkCards");

            migrationBuilder.DropIndex(
                name: "IX_Work_CardCode_CompletedAt",
                table: "Work");

            migrationBuilder.DropColumn(
                name: "Card",
                table: "Work");

            migrationBuilder.DropColumn(
                name: "CardCode",
                table: "Work");

            migrationBuilder.DropColumn(
                name: "AuthorisationApproval",
                table: "People");

            migrationBuilder.DropColumn(
                name: "AuthorisationLimits",
                table: "People");

            migrationBuilder.DropColumn(
                name: "SigningCodeHash",
                table: "People");

            migrationBuilder.DropColumn(
                name: "SigningLockedUntil",
                table: "People");

            migrationBuilder.DropColumn(
                name: "SigningTries",
                table: "People");

            migrationBuilder.DropColumn(
                name: "Holder",
                table: "Defects");
        }
    }
}
