using System;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace Drainboard.Data.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class Beginning : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "ApiKeys",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Person = table.Column<Guid>(type: "uuid", nullable: false),
                    Scopes = table.Column<string>(type: "text", nullable: false),
                    SecretHash = table.Column<string>(type: "text", nullable: false),
                    CreatedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    ExpiresAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    RevokedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ApiKeys", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Bases",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Kind = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Code = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Terms = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Bases", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "ChainHeads",
                columns: table => new
                {
                    Chain = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    Number = table.Column<long>(type: "bigint", nullable: false),
                    Hash = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ChainHeads", x => x.Chain);
                });

            migrationBuilder.CreateTable(
                name: "Changes",
                columns: table => new
                {
                    Sequence = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    Kind = table.Column<string>(type: "character varying(48)", maxLength: 48, nullable: false),
                    Subject = table.Column<Guid>(type: "uuid", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Changes", x => x.Sequence);
                });

            migrationBuilder.CreateTable(
                name: "Commands",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Person = table.Column<Guid>(type: "uuid", nullable: false),
                    PayloadHash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    Answer = table.Column<string>(type: "text", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Commands", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "DataProtectionKeys",
                columns: table => new
                {
                    Id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    FriendlyName = table.Column<string>(type: "text", nullable: true),
                    Xml = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_DataProtectionKeys", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Defects",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    Number = table.Column<int>(type: "integer", nullable: false),
                    Position = table.Column<string>(type: "character varying(12)", maxLength: 12, nullable: false),
                    Symptom = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Leak = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    LeakWhere = table.Column<string>(type: "text", nullable: false),
                    State = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Closure = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: true),
                    SameAs = table.Column<Guid>(type: "uuid", nullable: true),
                    SeenAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    ReceivedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    ClosedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    Log = table.Column<string>(type: "text", nullable: true),
                    ClosureLog = table.Column<string>(type: "text", nullable: true),
                    HasLapsed = table.Column<bool>(type: "boolean", nullable: false),
                    Deferral = table.Column<Guid>(type: "uuid", nullable: true),
                    Repeat = table.Column<string>(type: "text", nullable: true),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Defects", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Deferrals",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Defect = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    BasisKind = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    BasisCode = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Basis = table.Column<string>(type: "text", nullable: false),
                    PolicyName = table.Column<string>(type: "text", nullable: false),
                    PolicyVersion = table.Column<int>(type: "integer", nullable: false),
                    TimeBase = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Zone = table.Column<string>(type: "text", nullable: false),
                    TimeZoneData = table.Column<string>(type: "text", nullable: false),
                    Installed = table.Column<int>(type: "integer", nullable: false),
                    Required = table.Column<int>(type: "integer", nullable: false),
                    Conditions = table.Column<string>(type: "text", nullable: false),
                    PlacardFitted = table.Column<bool>(type: "boolean", nullable: false),
                    PlacardWhere = table.Column<string>(type: "text", nullable: false),
                    Words = table.Column<string>(type: "text", nullable: false),
                    Log = table.Column<string>(type: "text", nullable: true),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Control = table.Column<string>(type: "text", nullable: true),
                    ControlReference = table.Column<string>(type: "text", nullable: false),
                    Certified = table.Column<string>(type: "text", nullable: true),
                    ProposedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    BeganAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    DueAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    StartsAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    EndedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    EndReason = table.Column<string>(type: "text", nullable: false),
                    Extensions = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Deferrals", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Installations",
                columns: table => new
                {
                    Id = table.Column<int>(type: "integer", nullable: false),
                    OperatorName = table.Column<string>(type: "text", nullable: false),
                    IsDemo = table.Column<bool>(type: "boolean", nullable: false),
                    Mode = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    ApprovalReference = table.Column<string>(type: "text", nullable: false),
                    PolicyName = table.Column<string>(type: "text", nullable: false),
                    TimeBase = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    RepeatRule = table.Column<string>(type: "text", nullable: false),
                    SetUpSecretHash = table.Column<string>(type: "text", nullable: false),
                    CreatedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Installations", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Layouts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Code = table.Column<string>(type: "character varying(12)", maxLength: 12, nullable: false),
                    Version = table.Column<int>(type: "integer", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Seats = table.Column<int>(type: "integer", nullable: false),
                    Fixtures = table.Column<string>(type: "text", nullable: false),
                    Connections = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Layouts", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "People",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Roles = table.Column<string>(type: "text", nullable: false),
                    Stations = table.Column<string>(type: "text", nullable: false),
                    OnlyTail = table.Column<string>(type: "text", nullable: false),
                    AuthorisationNumber = table.Column<string>(type: "text", nullable: false),
                    AuthorisationKind = table.Column<string>(type: "text", nullable: false),
                    Organisation = table.Column<string>(type: "text", nullable: false),
                    AuthorisationLastDay = table.Column<LocalDate>(type: "date", nullable: true),
                    IsDemo = table.Column<bool>(type: "boolean", nullable: false),
                    IsDisabled = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false),
                    UserName = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    NormalizedUserName = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    Email = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    NormalizedEmail = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    EmailConfirmed = table.Column<bool>(type: "boolean", nullable: false),
                    PasswordHash = table.Column<string>(type: "text", nullable: true),
                    SecurityStamp = table.Column<string>(type: "text", nullable: true),
                    ConcurrencyStamp = table.Column<string>(type: "text", nullable: true),
                    PhoneNumber = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    PhoneNumberConfirmed = table.Column<bool>(type: "boolean", nullable: false),
                    TwoFactorEnabled = table.Column<bool>(type: "boolean", nullable: false),
                    LockoutEnd = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    LockoutEnabled = table.Column<bool>(type: "boolean", nullable: false),
                    AccessFailedCount = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_People", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Photos",
                columns: table => new
                {
                    Sha256 = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    ContentType = table.Column<string>(type: "text", nullable: false),
                    Bytes = table.Column<byte[]>(type: "bytea", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Photos", x => x.Sha256);
                });

            migrationBuilder.CreateTable(
                name: "Record",
                columns: table => new
                {
                    Chain = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    Number = table.Column<long>(type: "bigint", nullable: false),
                    At = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Kind = table.Column<string>(type: "character varying(48)", maxLength: 48, nullable: false),
                    Subject = table.Column<Guid>(type: "uuid", nullable: false),
                    Words = table.Column<string>(type: "text", nullable: false),
                    Payload = table.Column<string>(type: "text", nullable: false),
                    PreviousHash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    Hash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Record", x => new { x.Chain, x.Number });
                });

            migrationBuilder.CreateTable(
                name: "Reports",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Defect = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    Position = table.Column<string>(type: "character varying(12)", maxLength: 12, nullable: false),
                    Symptom = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Leak = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    LeakWhere = table.Column<string>(type: "text", nullable: false),
                    Phase = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    Words = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: false),
                    Reporter = table.Column<Guid>(type: "uuid", nullable: false),
                    ReporterName = table.Column<string>(type: "text", nullable: false),
                    SeenAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    SavedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    ReceivedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Log = table.Column<string>(type: "text", nullable: true),
                    Photos = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Reports", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Sectors",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Key = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    From = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: false),
                    To = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: false),
                    OffBlock = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    OnBlock = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    FlightMinutes = table.Column<int>(type: "integer", nullable: false),
                    Flown = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Sectors", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Signers",
                columns: table => new
                {
                    Chain = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    EntryNumber = table.Column<long>(type: "bigint", nullable: false),
                    Person = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "text", nullable: true),
                    Number = table.Column<string>(type: "text", nullable: true),
                    Salt = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Signers", x => new { x.Chain, x.EntryNumber });
                });

            migrationBuilder.CreateTable(
                name: "Stations",
                columns: table => new
                {
                    Code = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: false),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Zone = table.Column<string>(type: "text", nullable: false),
                    Capabilities = table.Column<string>(type: "text", nullable: false),
                    StaffedFrom = table.Column<LocalTime>(type: "time", nullable: false),
                    StaffedTo = table.Column<LocalTime>(type: "time", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Stations", x => x.Code);
                });

            migrationBuilder.CreateTable(
                name: "Tails",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Registration = table.Column<string>(type: "character varying(10)", maxLength: 10, nullable: false),
                    Layout = table.Column<Guid>(type: "uuid", nullable: false),
                    Deviations = table.Column<string>(type: "text", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Tails", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Turns",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Key = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    Station = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: false),
                    Stand = table.Column<string>(type: "character varying(12)", maxLength: 12, nullable: false),
                    EstimatedArrival = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    EstimatedDeparture = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    OnBlocks = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    OffBlocks = table.Column<Instant>(type: "timestamp with time zone", nullable: true),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Turns", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Work",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Defect = table.Column<Guid>(type: "uuid", nullable: false),
                    Tail = table.Column<Guid>(type: "uuid", nullable: false),
                    Position = table.Column<string>(type: "character varying(12)", maxLength: 12, nullable: false),
                    Found = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    FoundAt = table.Column<string>(type: "character varying(12)", maxLength: 12, nullable: false),
                    ManualReference = table.Column<string>(type: "text", nullable: false),
                    Steps = table.Column<string>(type: "text", nullable: false),
                    CompletedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Minutes = table.Column<int>(type: "integer", nullable: true),
                    Performer = table.Column<Guid>(type: "uuid", nullable: false),
                    PerformerName = table.Column<string>(type: "text", nullable: false),
                    OpsCheck = table.Column<string>(type: "text", nullable: true),
                    LeakCheck = table.Column<string>(type: "text", nullable: true),
                    Outcome = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: true),
                    OpenTasks = table.Column<string>(type: "text", nullable: false),
                    Release = table.Column<string>(type: "text", nullable: true),
                    ReturnReason = table.Column<string>(type: "text", nullable: false),
                    RecordedAt = table.Column<Instant>(type: "timestamp with time zone", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Work", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "AspNetUserClaims",
                columns: table => new
                {
                    Id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    UserId = table.Column<Guid>(type: "uuid", nullable: false),
                    ClaimType = table.Column<string>(type: "text", nullable: true),
                    ClaimValue = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_AspNetUserClaims", x => x.Id);
                    table.ForeignKey(
                        name: "FK_AspNetUserClaims_People_UserId",
                        column: x => x.UserId,
                        principalTable: "People",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "AspNetUserLogins",
                columns: table => new
                {
                    LoginProvider = table.Column<string>(type: "character varying(128)", maxLength: 128, nullable: false),
                    ProviderKey = table.Column<string>(type: "character varying(128)", maxLength: 128, nullable: false),
                    ProviderDisplayName = table.Column<string>(type: "text", nullable: true),
                    UserId = table.Column<Guid>(type: "uuid", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_AspNetUserLogins", x => new { x.LoginProvider, x.ProviderKey });
                    table.ForeignKey(
                        name: "FK_AspNetUserLogins_People_UserId",
                        column: x => x.UserId,
                        principalTable: "People",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "AspNetUserPasskeys",
                columns: table => new
                {
                    CredentialId = table.Column<byte[]>(type: "bytea", maxLength: 1024, nullable: false),
                    UserId = table.Column<Guid>(type: "uuid", nullable: false),
                    Data = table.Column<string>(type: "jsonb", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_AspNetUserPasskeys", x => x.CredentialId);
                    table.ForeignKey(
                        name: "FK_AspNetUserPasskeys_People_UserId",
                        column: x => x.UserId,
                        principalTable: "People",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "AspNetUserTokens",
                columns: table => new
                {
                    UserId = table.Column<Guid>(type: "uuid", nullable: false),
                    LoginProvider = table.Column<string>(type: "character varying(128)", maxLength: 128, nullable: false),
                    Name = table.Column<string>(type: "character varying(128)", maxLength: 128, nullable: false),
                    Value = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_AspNetUserTokens", x => new { x.UserId, x.LoginProvider, x.Name });
                    table.ForeignKey(
                        name: "FK_AspNetUserTokens_People_UserId",
                        column: x => x.UserId,
                        principalTable: "People",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateIndex(
                name: "IX_ApiKeys_SecretHash",
                table: "ApiKeys",
                column: "SecretHash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_AspNetUserClaims_UserId",
                table: "AspNetUserClaims",
                column: "UserId");

            migrationBuilder.CreateIndex(
                name: "IX_AspNetUserLogins_UserId",
                table: "AspNetUserLogins",
                column: "UserId");

            migrationBuilder.CreateIndex(
                name: "IX_AspNetUserPasskeys_UserId",
                table: "AspNetUserPasskeys",
                column: "UserId");

            migrationBuilder.CreateIndex(
                name: "IX_Bases_Kind_Code",
                table: "Bases",
                columns: new[] { "Kind", "Code" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Defects_SameAs",
                table: "Defects",
                column: "SameAs");

            migrationBuilder.CreateIndex(
                name: "IX_Defects_Tail",
                table: "Defects",
                column: "Tail",
                filter: "\"State\" <> 'Closed'");

            migrationBuilder.CreateIndex(
                name: "IX_Defects_Tail_Number",
                table: "Defects",
                columns: new[] { "Tail", "Number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Defects_Tail_Position_RecordedAt",
                table: "Defects",
                columns: new[] { "Tail", "Position", "RecordedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Deferrals_Defect",
                table: "Deferrals",
                column: "Defect");

            migrationBuilder.CreateIndex(
                name: "IX_Deferrals_DueAt",
                table: "Deferrals",
                column: "DueAt",
                filter: "\"EndedAt\" IS NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Layouts_Code_Version",
                table: "Layouts",
                columns: new[] { "Code", "Version" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "EmailIndex",
                table: "People",
                column: "NormalizedEmail");

            migrationBuilder.CreateIndex(
                name: "UserNameIndex",
                table: "People",
                column: "NormalizedUserName",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Record_Subject",
                table: "Record",
                column: "Subject");

            migrationBuilder.CreateIndex(
                name: "IX_Reports_Defect",
                table: "Reports",
                column: "Defect");

            migrationBuilder.CreateIndex(
                name: "IX_Sectors_Key",
                table: "Sectors",
                column: "Key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Sectors_Tail_OnBlock",
                table: "Sectors",
                columns: new[] { "Tail", "OnBlock" });

            migrationBuilder.CreateIndex(
                name: "IX_Tails_Registration",
                table: "Tails",
                column: "Registration",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Turns_Key",
                table: "Turns",
                column: "Key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Turns_Station_EstimatedDeparture",
                table: "Turns",
                columns: new[] { "Station", "EstimatedDeparture" });

            migrationBuilder.CreateIndex(
                name: "IX_Turns_Tail_EstimatedDeparture",
                table: "Turns",
                columns: new[] { "Tail", "EstimatedDeparture" });

            migrationBuilder.CreateIndex(
                name: "IX_Work_Defect",
                table: "Work",
                column: "Defect");

            migrationBuilder.CreateIndex(
                name: "IX_Work_Tail_Position_CompletedAt",
                table: "Work",
                columns: new[] { "Tail", "Position", "CompletedAt" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "ApiKeys");

            migrationBuilder.DropTable(
                name: "AspNetUserClaims");

            migrationBuilder.DropTable(
                name: "AspNetUserLogins");

            migrationBuilder.DropTable(
                name: "AspNetUserPasskeys");

            migrationBuilder.DropTable(
                name: "AspNetUserTokens");

            migrationBuilder.DropTable(
                name: "Bases");

            migrationBuilder.DropTable(
                name: "ChainHeads");

            migrationBuilder.DropTable(
                name: "Changes");

            migrationBuilder.DropTable(
                name: "Commands");

            migrationBuilder.DropTable(
                name: "DataProtectionKeys");

            migrationBuilder.DropTable(
                name: "Defects");

            migrationBuilder.DropTable(
                name: "Deferrals");

            migrationBuilder.DropTable(
                name: "Installations");

            migrationBuilder.DropTable(
                name: "Layouts");

            migrationBuilder.DropTable(
                name: "Photos");

            migrationBuilder.DropTable(
                name: "Record");

            migrationBuilder.DropTable(
                name: "Reports");

            migrationBuilder.DropTable(
                name: "Sectors");

            migrationBuilder.DropTable(
                name: "Signers");

            migrationBuilder.DropTable(
                name: "Stations");

            migrationBuilder.DropTable(
                name: "Tails");

            migrationBuilder.DropTable(
                name: "Turns");

            migrationBuilder.DropTable(
                name: "Work");

            migrationBuilder.DropTable(
                name: "People");
        }
    }
}
