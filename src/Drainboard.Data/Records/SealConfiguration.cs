using Drainboard.Domain.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Records;

internal sealed class FleetSealConfiguration : IEntityTypeConfiguration<FleetSeal>
{
    public void Configure(EntityTypeBuilder<FleetSeal> builder)
    {
        builder.HasKey(seal => seal.Number);
        builder.Property(seal => seal.Number).ValueGeneratedNever();
        builder.Property(seal => seal.Root).HasMaxLength(64);
    }
}

internal sealed class SealedHeadConfiguration : IEntityTypeConfiguration<SealedHead>
{
    public void Configure(EntityTypeBuilder<SealedHead> builder)
    {
        builder.HasKey(head => head.Index);
        builder.Property(head => head.Index).ValueGeneratedNever();
        builder.Property(head => head.Hash).HasMaxLength(64);
        builder.Ignore(head => head.Leaf);
    }
}
