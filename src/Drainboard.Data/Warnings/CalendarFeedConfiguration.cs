using Drainboard.Domain.Warnings;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Warnings;

internal sealed class CalendarFeedConfiguration : IEntityTypeConfiguration<CalendarFeed>
{
    public void Configure(EntityTypeBuilder<CalendarFeed> builder)
    {
        builder.HasKey(feed => feed.Id);
        builder.Property(feed => feed.Version).IsConcurrencyToken();

        // Each fetch is one look-up by hash.
        builder.HasIndex(feed => feed.SecretHash).IsUnique();
    }
}
