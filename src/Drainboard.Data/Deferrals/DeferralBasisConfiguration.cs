using Drainboard.Data.Conversions;
using Drainboard.Domain.Deferrals;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Deferrals;

internal sealed class DeferralBasisConfiguration : IEntityTypeConfiguration<DeferralBasis>
{
    public void Configure(EntityTypeBuilder<DeferralBasis> builder)
    {
        builder.HasKey(basis => basis.Id);
        builder.Property(basis => basis.Code).HasMaxLength(32);
        builder.Property(basis => basis.Terms).HasJson();
        builder.Property(basis => basis.Version).IsConcurrencyToken();
        builder.HasIndex(basis => new { basis.Kind, basis.Code }).IsUnique();
    }
}
