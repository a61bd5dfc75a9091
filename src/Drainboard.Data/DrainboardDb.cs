using Drainboard.Data.Accounts;
using Drainboard.Data.Conversions;
using Drainboard.Data.Recurrence;
using Drainboard.Data.Records;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.OnBoard;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Departure;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Handovers;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.PotableWater;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Records;
using Drainboard.Domain.Recurrence;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Reliability;
using Drainboard.Domain.Network;
using Drainboard.Domain.ShiftPlans;
using Drainboard.Domain.Tanks;
using Drainboard.Domain.Turns;
using Drainboard.Domain.Warnings;
using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Data;

/// <summary>
/// The one model, on either database. Reads go through the sets; every change that matters goes through
/// <see cref="SaveAsync"/>, which writes the record, the change table and the command in the same transaction.
/// </summary>
public abstract class DrainboardDb(DbContextOptions options) : IdentityUserContext<Person, Guid>(options), IDataProtectionKeyContext
{
    public DbSet<Station> Stations => Set<Station>();

    public DbSet<CabinLayout> Layouts => Set<CabinLayout>();

    public DbSet<Tail> Tails => Set<Tail>();

    public DbSet<Turn> Turns => Set<Turn>();

    public DbSet<Sector> Sectors => Set<Sector>();

    public DbSet<DeferralBasis> Bases => Set<DeferralBasis>();

    public DbSet<OperatorPolicy> Policies => Set<OperatorPolicy>();

    public DbSet<Report> Reports => Set<Report>();

    public DbSet<Defect> Defects => Set<Defect>();

    public DbSet<Deferral> Deferrals => Set<Deferral>();

    public DbSet<WorkDone> Work => Set<WorkDone>();

    public DbSet<WorkCard> WorkCards => Set<WorkCard>();

    public DbSet<Job> Jobs => Set<Job>();

    public DbSet<JobStep> JobSteps => Set<JobStep>();

    public DbSet<DisturbedThing> Disturbed => Set<DisturbedThing>();

    public DbSet<Part> Parts => Set<Part>();

    public DbSet<Handover> Handovers => Set<Handover>();

    public DbSet<StationPlan> ShiftPlans => Set<StationPlan>();

    public DbSet<FleetPlan> FleetPlans => Set<FleetPlan>();

    public DbSet<Standing> Standings => Set<Standing>();

    public DbSet<StandingSnapshot> StandingSnapshots => Set<StandingSnapshot>();

    public DbSet<LayoutTanks> LayoutTanks => Set<LayoutTanks>();

    public DbSet<PotableUplift> PotableUplifts => Set<PotableUplift>();

    public DbSet<WasteService> WasteServices => Set<WasteService>();

    public DbSet<WaterProgramme> WaterProgrammes => Set<WaterProgramme>();

    public DbSet<WaterDeed> WaterDeeds => Set<WaterDeed>();

    public DbSet<SampleSet> SampleSets => Set<SampleSet>();

    public DbSet<WaterCase> WaterCases => Set<WaterCase>();

    public DbSet<Pour> Pours => Set<Pour>();

    public DbSet<PlannedCheck> PlannedChecks => Set<PlannedCheck>();

    public DbSet<CheckDone> ChecksDone => Set<CheckDone>();

    public DbSet<StandTemperature> StandTemperatures => Set<StandTemperature>();

    public DbSet<Follow> Follows => Set<Follow>();

    public DbSet<Warning> Warnings => Set<Warning>();

    public DbSet<CalendarFeed> CalendarFeeds => Set<CalendarFeed>();

    public DbSet<SheetAcknowledgement> Acknowledgements => Set<SheetAcknowledgement>();

    public DbSet<RecordEntry> Record => Set<RecordEntry>();

    public DbSet<RecordSigner> Signers => Set<RecordSigner>();

    public DbSet<ChainHead> ChainHeads => Set<ChainHead>();

    public DbSet<FleetSeal> Seals => Set<FleetSeal>();

    public DbSet<SealedHead> SealedHeads => Set<SealedHead>();

    public DbSet<Change> Changes => Set<Change>();

    public DbSet<Command> Commands => Set<Command>();

    public DbSet<Photo> Photos => Set<Photo>();

    public DbSet<PhotoPart> PhotoParts => Set<PhotoPart>();

    public DbSet<Device> Devices => Set<Device>();

    public DbSet<SignIn> SignIns => Set<SignIn>();

    public DbSet<SecretTries> SecretTries => Set<SecretTries>();

    public DbSet<CrewNote> CrewNotes => Set<CrewNote>();

    public DbSet<ApiKey> ApiKeys => Set<ApiKey>();

    public DbSet<Installation> Installations => Set<Installation>();

    public DbSet<DataProtectionKey> DataProtectionKeys => Set<DataProtectionKey>();

    /// <summary>Takes the chain's head so that no other writer adds to it before this transaction ends.</summary>
    internal abstract Task<ChainHead> LockHeadAsync(ChainKey chain, CancellationToken stop);

    /// <summary>Waits for this process' turn to write, where the database takes one writer at a time.</summary>
    internal abstract ValueTask<IDisposable?> EnterWriteAsync(CancellationToken stop);

    /// <summary>The name of the repeat rule in force; until the open transaction ends nobody changes it.</summary>
    internal abstract Task<string?> ShareRuleAsync(CancellationToken stop);

    /// <summary>Writes many rows at once, inside the transaction that is open.</summary>
    internal abstract Task WriteStandingsAsync(IReadOnlyList<Standing> rows, CancellationToken stop);

    /// <summary>Replaces the standings whole, as one transaction: a reader sees the old snapshot or the new one. They are worked out, not recorded.</summary>
    /// <exception cref="DbUpdateException">Another process has made this number.</exception>
    public async Task ReplaceStandingsAsync(StandingSnapshot snapshot, IReadOnlyList<Standing> rows, CancellationToken stop)
    {
        using var turn = await EnterWriteAsync(stop);
        await using var transaction = await Database.BeginTransactionAsync(stop);
        StandingSnapshots.Add(snapshot);
        Changes.Add(new Change("standings", Guid.Empty, snapshot.At));
        await SaveChangesAsync(stop);
        await WriteStandingsAsync(rows, stop);
        await Database.ExecuteSqlAsync($"DELETE FROM \"Standings\" WHERE \"Snapshot\" < {snapshot.Number}", stop);
        await transaction.CommitAsync(stop);
    }

    /// <summary>Judges every write-up of a tail anew by the facts that are stored, as one transaction. Every save keeps the flags, so that none should differ.</summary>
    /// <returns>How many flags differed and were put right.</returns>
    public async Task<int> RecountRepeatsAsync(TailId tail, CancellationToken stop)
    {
        using var turn = await EnterWriteAsync(stop);
        await using var transaction = await Database.BeginTransactionAsync(stop);
        await LockHeadAsync(ChainKey.For(tail), stop);
        var differed = await new RepeatFlags(this).RecountAsync(RepeatRule.Find(await ShareRuleAsync(stop) ?? ""), tail, stop);
        WritingTransaction.RaiseVersions(this);
        await SaveChangesAsync(stop);
        await transaction.CommitAsync(stop);
        ChangeTracker.Clear();
        return differed;
    }

    /// <summary>Those of some tails on which a stored repeat flag is not what the rule says of the facts. Nothing is locked: what was being written meanwhile may be among them.</summary>
    public async Task<IReadOnlyList<TailId>> TailsToRecountAsync(IReadOnlyCollection<TailId> tails, CancellationToken stop) =>
        await new RepeatFlags(this).DifferingAsync(RepeatRule.Find(await Installations.Select(installation => installation.RepeatRule).SingleOrDefaultAsync(stop) ?? ""), tails, stop);

    public abstract bool IsDuplicateKey(DbUpdateException failure);

    /// <summary>Whether it can be written to at all: a standby cannot.</summary>
    public abstract Task<bool> TakesWritesAsync(CancellationToken stop);

    /// <summary>Until the answer is disposed of, everything that this context reads is of one moment, whatever is written meanwhile: a version and what belongs to it agree.</summary>
    public abstract Task<IAsyncDisposable> OneMomentAsync(CancellationToken stop);

    /// <summary>Saves everything tracked, with its facts, as one transaction.</summary>
    /// <exception cref="DbUpdateConcurrencyException">Somebody else changed one of the rows since it was read.</exception>
    public Task SaveAsync(Writing writing, CancellationToken stop) => new WritingTransaction(this, writing).RunAsync(stop);

    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        builder.ApplyConfigurationsFromAssembly(typeof(DrainboardDb).Assembly);
    }

    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        base.ConfigureConventions(configurationBuilder);
        configurationBuilder.Properties<PersonId>().HaveConversion<IdConverter<PersonId>>();
        configurationBuilder.Properties<TailId>().HaveConversion<IdConverter<TailId>>();
        configurationBuilder.Properties<LayoutId>().HaveConversion<IdConverter<LayoutId>>();
        configurationBuilder.Properties<TurnId>().HaveConversion<IdConverter<TurnId>>();
        configurationBuilder.Properties<SectorId>().HaveConversion<IdConverter<SectorId>>();
        configurationBuilder.Properties<BasisId>().HaveConversion<IdConverter<BasisId>>();
        configurationBuilder.Properties<ReportId>().HaveConversion<IdConverter<ReportId>>();
        configurationBuilder.Properties<DefectId>().HaveConversion<IdConverter<DefectId>>();
        configurationBuilder.Properties<DeferralId>().HaveConversion<IdConverter<DeferralId>>();
        configurationBuilder.Properties<RectificationId>().HaveConversion<IdConverter<RectificationId>>();
        configurationBuilder.Properties<WorkCardId>().HaveConversion<IdConverter<WorkCardId>>();
        configurationBuilder.Properties<JobId>().HaveConversion<IdConverter<JobId>>();
        configurationBuilder.Properties<DisturbedId>().HaveConversion<IdConverter<DisturbedId>>();
        configurationBuilder.Properties<PartId>().HaveConversion<IdConverter<PartId>>();
        configurationBuilder.Properties<HandoverId>().HaveConversion<IdConverter<HandoverId>>();
        configurationBuilder.Properties<FleetPlanId>().HaveConversion<IdConverter<FleetPlanId>>();
        configurationBuilder.Properties<StationPlanId>().HaveConversion<IdConverter<StationPlanId>>();
        configurationBuilder.Properties<PourId>().HaveConversion<IdConverter<PourId>>();
        configurationBuilder.Properties<CheckDoneId>().HaveConversion<IdConverter<CheckDoneId>>();
        configurationBuilder.Properties<StandTemperatureId>().HaveConversion<IdConverter<StandTemperatureId>>();
        configurationBuilder.Properties<TankServiceId>().HaveConversion<IdConverter<TankServiceId>>();
        configurationBuilder.Properties<WaterDeedId>().HaveConversion<IdConverter<WaterDeedId>>();
        configurationBuilder.Properties<SampleSetId>().HaveConversion<IdConverter<SampleSetId>>();
        configurationBuilder.Properties<WaterCaseId>().HaveConversion<IdConverter<WaterCaseId>>();
        configurationBuilder.Properties<StationCode>().HaveConversion<StationCodeConverter>().HaveMaxLength(4);
        configurationBuilder.Properties<Registration>().HaveConversion<RegistrationConverter>().HaveMaxLength(10);
        configurationBuilder.Properties<Position>().HaveConversion<PositionConverter>().HaveMaxLength(12);
        configurationBuilder.Properties<ChainKey>().HaveConversion<ChainKeyConverter>().HaveMaxLength(64);
        configurationBuilder.Properties<Enum>().HaveConversion<string>().HaveMaxLength(32);
    }
}
