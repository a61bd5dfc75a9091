using Drainboard.Data.Conversions;
using Drainboard.Domain.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Records;

internal sealed class RecordEntryConfiguration : IEntityTypeConfiguration<RecordEntry>
{
    public void Configure(EntityTypeBuilder<RecordEntry> builder)
    {
        builder.ToTable("Record");
        builder.HasKey(entry => new { entry.Chain, entry.Number });
        builder.Property(entry => entry.Kind).HasMaxLength(48);
        builder.Property(entry => entry.PreviousHash).HasMaxLength(64);
        builder.Property(entry => entry.Hash).HasMaxLength(64);

        // A defect's page tells its story.
        builder.HasIndex(entry => entry.Subject);
    }
}

internal sealed class RecordSignerConfiguration : IEntityTypeConfiguration<RecordSigner>
{
    public void Configure(EntityTypeBuilder<RecordSigner> builder)
    {
        builder.HasKey(signer => new { signer.Chain, signer.EntryNumber });
        builder.Property(signer => signer.Salt).HasMaxLength(32);
    }
}

internal sealed class ChainHeadConfiguration : IEntityTypeConfiguration<ChainHead>
{
    public void Configure(EntityTypeBuilder<ChainHead> builder) => builder.HasKey(head => head.Chain);
}

internal sealed class ChangeConfiguration : IEntityTypeConfiguration<Change>
{
    public void Configure(EntityTypeBuilder<Change> builder)
    {
        builder.HasKey(change => change.Sequence);
        builder.Property(change => change.Kind).HasMaxLength(48);
    }
}

internal sealed class CommandConfiguration : IEntityTypeConfiguration<Command>
{
    public void Configure(EntityTypeBuilder<Command> builder)
    {
        builder.Property(command => command.Id).ValueGeneratedNever();
        builder.Property(command => command.PayloadHash).HasMaxLength(64);
    }
}

internal sealed class PhotoConfiguration : IEntityTypeConfiguration<Photo>
{
    public void Configure(EntityTypeBuilder<Photo> builder)
    {
        builder.HasKey(photo => photo.Sha256);
        builder.Property(photo => photo.Sha256).HasMaxLength(64);
    }
}

internal sealed class PhotoPartConfiguration : IEntityTypeConfiguration<PhotoPart>
{
    public void Configure(EntityTypeBuilder<PhotoPart> builder)
    {
        builder.HasKey(part => new { part.Report, part.Sha256, part.Offset });
        builder.Property(part => part.Sha256).HasMaxLength(64);
    }
}

internal sealed class InstallationConfiguration : IEntityTypeConfiguration<Installation>
{
    public void Configure(EntityTypeBuilder<Installation> builder)
    {
        builder.Property(installation => installation.Id).ValueGeneratedNever();
        builder.Property(installation => installation.Advice).HasJson();
        builder.Property(installation => installation.Fit).HasJson();
        builder.Property(installation => installation.Lavatories).HasJson();
        builder.Property(installation => installation.Tanks).HasJson();
        builder.Property(installation => installation.ToiletMinimums).HasJson();
        builder.Property(installation => installation.PasskeyRoles).HasJson();
        builder.Property(installation => installation.Version).IsConcurrencyToken();
    }
}
