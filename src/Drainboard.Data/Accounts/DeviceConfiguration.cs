using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Accounts;

internal sealed class DeviceConfiguration : IEntityTypeConfiguration<Device>
{
    public void Configure(EntityTypeBuilder<Device> builder)
    {
        builder.Property(device => device.Version).IsConcurrencyToken();
        builder.Ignore(device => device.IsGood);

        // Each request of a device is one look-up by hash; so is its enrolment.
        builder.HasIndex(device => device.SecretHash).IsUnique();
        builder.HasIndex(device => device.CodeHash).IsUnique();
    }
}

internal sealed class SecretTriesConfiguration : IEntityTypeConfiguration<SecretTries>
{
    public void Configure(EntityTypeBuilder<SecretTries> builder) => builder.HasKey(tries => new { tries.Whose, tries.Kind });
}
