using Drainboard.Data.Conversions;
using Drainboard.Domain.Cards;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Cards;

internal sealed class WorkCardConfiguration : IEntityTypeConfiguration<WorkCard>
{
    public void Configure(EntityTypeBuilder<WorkCard> builder)
    {
        builder.ToTable("WorkCards");
        builder.HasKey(card => card.Id);
        builder.Property(card => card.Code).HasMaxLength(40);
        builder.Property(card => card.Title).HasMaxLength(80);
        builder.Property(card => card.ManualReference).HasMaxLength(80);
        builder.Property(card => card.Kinds).HasJson();
        builder.Property(card => card.Families).HasJson();
        builder.Property(card => card.Steps).HasJson();

        // Two who publish the same card at once: one of them is told.
        builder.HasIndex(card => new { card.Code, card.Version }).IsUnique();
    }
}

internal sealed class JobConfiguration : IEntityTypeConfiguration<Job>
{
    public void Configure(EntityTypeBuilder<Job> builder)
    {
        builder.ToTable("Jobs");
        builder.HasKey(job => job.Id);
        builder.Property(job => job.CardCode).HasMaxLength(40);
        builder.Property(job => job.Version).IsConcurrencyToken();

        // A defect's page shows the job that runs on it.
        builder.HasIndex(job => job.Defect);
    }
}

internal sealed class JobStepConfiguration : IEntityTypeConfiguration<JobStep>
{
    public void Configure(EntityTypeBuilder<JobStep> builder)
    {
        builder.ToTable("JobSteps");
        builder.HasKey(step => new { step.Job, step.Step, step.Turn });
        builder.Property(step => step.Step).HasMaxLength(24);
        builder.Property(step => step.Photo).HasMaxLength(64);
        builder.Property(step => step.Inspection).HasJson();
    }
}

internal sealed class DisturbedThingConfiguration : IEntityTypeConfiguration<DisturbedThing>
{
    public void Configure(EntityTypeBuilder<DisturbedThing> builder)
    {
        builder.ToTable("Disturbed");
        builder.HasKey(thing => thing.Id);
        builder.Property(thing => thing.Step).HasMaxLength(24);
        builder.Property(thing => thing.Version).IsConcurrencyToken();

        // Every signature on a defect asks what is still disturbed; a handover asks for a tail.
        builder.HasIndex(thing => thing.Defect);
        builder.HasIndex(thing => new { thing.Tail, thing.RestoredAt });
    }
}

internal sealed class PartConfiguration : IEntityTypeConfiguration<Part>
{
    public void Configure(EntityTypeBuilder<Part> builder)
    {
        builder.ToTable("Parts");
        builder.HasKey(part => part.Id);
        builder.Property(part => part.Version).IsConcurrencyToken();
        builder.Ignore(part => part.IsOnLimit);
        builder.HasIndex(part => part.Defect);

        // What is awaited, and what is fitted without a certificate, over the fleet.
        builder.HasIndex(part => new { part.State, part.Tail });
    }
}
