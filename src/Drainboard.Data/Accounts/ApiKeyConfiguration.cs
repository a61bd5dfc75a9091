using Drainboard.Data.Conversions;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Accounts;

internal sealed class ApiKeyConfiguration : IEntityTypeConfiguration<ApiKey>
{
    public void Configure(EntityTypeBuilder<ApiKey> builder)
    {
        builder.Property(key => key.Scopes).HasJson();
        builder.Property(key => key.Version).IsConcurrencyToken();

        // Each request with a key is one look-up by hash.
        builder.HasIndex(key => key.SecretHash).IsUnique();
    }
}
