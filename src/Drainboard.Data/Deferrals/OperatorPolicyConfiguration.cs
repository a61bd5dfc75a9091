using Drainboard.Data.Conversions;
using Drainboard.Domain.Deferrals;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Deferrals;

internal sealed class OperatorPolicyConfiguration : IEntityTypeConfiguration<OperatorPolicy>
{
    public void Configure(EntityTypeBuilder<OperatorPolicy> builder)
    {
        builder.HasKey(policy => policy.Id);
        builder.Property(policy => policy.Name).HasMaxLength(24);
        builder.Property(policy => policy.Terms).HasJson();

        // The newest version by name; two people who edit at once meet here.
        builder.HasIndex(policy => new { policy.Name, policy.Number }).IsUnique();
    }
}
