using Drainboard.Data.Conversions;
using Drainboard.Domain.PlannedChecks;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.PlannedChecks;

internal sealed class PlannedCheckConfiguration : IEntityTypeConfiguration<PlannedCheck>
{
    public void Configure(EntityTypeBuilder<PlannedCheck> builder)
    {
        builder.HasKey(check => new { check.Code, check.Number });
        builder.Property(check => check.Code).HasMaxLength(40);
        builder.Property(check => check.Terms).HasJson();
    }
}

internal sealed class CheckDoneConfiguration : IEntityTypeConfiguration<CheckDone>
{
    public void Configure(EntityTypeBuilder<CheckDone> builder)
    {
        builder.HasKey(done => done.Id);
        builder.Property(done => done.Check).HasMaxLength(40);
        builder.Property(done => done.TakenBackWhy).HasMaxLength(CheckDone.LongestReason);
        builder.Property(done => done.Version).IsConcurrencyToken();

        // A walk-round shows what was done in a stay; recording one reads those alike.
        builder.HasIndex(done => new { done.Tail, done.Check, done.Position, done.At });
        builder.HasIndex(done => new { done.Tail, done.At });

        // A Board works out dues for many tails from the newest alone.
        builder.HasIndex(done => done.Tail).HasFilter("\"IsNewest\"").HasDatabaseName("IX_ChecksDone_Newest");
    }
}

internal sealed class StandTemperatureConfiguration : IEntityTypeConfiguration<StandTemperature>
{
    public void Configure(EntityTypeBuilder<StandTemperature> builder)
    {
        builder.HasKey(told => told.Id);
        builder.HasIndex(told => new { told.Station, told.From });
    }
}
