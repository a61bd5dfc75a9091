using Drainboard.Data.Conversions;
using Drainboard.Domain.Defects;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Defects;

internal sealed class ReportConfiguration : IEntityTypeConfiguration<Report>
{
    public void Configure(EntityTypeBuilder<Report> builder)
    {
        builder.HasKey(report => report.Id);
        builder.Property(report => report.Words).HasMaxLength(Sighting.LongestWords);
        builder.Property(report => report.Log).HasJson();
        builder.Property(report => report.Photos).HasJson();
        builder.Property(report => report.AlsoAt).HasJson();
        builder.Property(report => report.Version).IsConcurrencyToken();
        builder.Ignore(report => report.ClockOff);

        // A defect's page shows the reports that led to it.
        builder.HasIndex(report => report.Defect);

        // A person sees what became of their own; followers are told of what came in.
        builder.HasIndex(report => new { report.Reporter, report.ReceivedAt });
        builder.HasIndex(report => report.ReceivedAt);
    }
}
