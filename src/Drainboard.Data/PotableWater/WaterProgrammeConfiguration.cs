using Drainboard.Data.Conversions;
using Drainboard.Domain.PotableWater;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.PotableWater;

internal sealed class WaterProgrammeConfiguration : IEntityTypeConfiguration<WaterProgramme>
{
    public void Configure(EntityTypeBuilder<WaterProgramme> builder)
    {
        builder.HasKey(programme => new { programme.Code, programme.Number });
        builder.Property(programme => programme.Code).HasMaxLength(40);
        builder.Property(programme => programme.Terms).HasJson();
    }
}
