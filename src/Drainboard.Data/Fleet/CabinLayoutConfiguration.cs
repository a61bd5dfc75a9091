using Drainboard.Data.Conversions;
using Drainboard.Domain.Fleet;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Fleet;

internal sealed class CabinLayoutConfiguration : IEntityTypeConfiguration<CabinLayout>
{
    public void Configure(EntityTypeBuilder<CabinLayout> builder)
    {
        builder.HasKey(layout => layout.Id);
        builder.Property(layout => layout.Code).HasMaxLength(12);
        builder.Property(layout => layout.Fixtures).HasJson();
        builder.Property(layout => layout.Connections).HasJson();
        builder.Property(layout => layout.Classes).HasJson();
        builder.Ignore(layout => layout.Plumbing);
        builder.HasIndex(layout => new { layout.Code, layout.Version }).IsUnique();
    }
}
