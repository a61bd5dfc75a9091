using Drainboard.Data.Conversions;
using Drainboard.Domain.Fleet;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Fleet;

internal sealed class TailConfiguration : IEntityTypeConfiguration<Tail>
{
    public void Configure(EntityTypeBuilder<Tail> builder)
    {
        builder.HasKey(tail => tail.Id);
        builder.Property(tail => tail.Deviations).HasJson();
        builder.Property(tail => tail.Version).IsConcurrencyToken();
        builder.HasIndex(tail => tail.Registration).IsUnique();
    }
}
