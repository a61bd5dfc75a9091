using Drainboard.Domain.Warnings;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Warnings;

internal sealed class WarningConfiguration : IEntityTypeConfiguration<Warning>
{
    public void Configure(EntityTypeBuilder<Warning> builder)
    {
        builder.HasKey(warning => warning.Id);

        // Once for each: several processes that look at the same moment meet here.
        builder.HasIndex(warning => new { warning.Person, warning.Deferral, warning.LeadHours, warning.DueAt }).IsUnique();

        builder.HasIndex(warning => new { warning.Person, warning.Report }).IsUnique();

        // A person's page, newest first; what is mailed next.
        builder.HasIndex(warning => new { warning.Person, warning.MadeAt });
        builder.HasIndex(warning => warning.MadeAt).HasFilter("\"ByMail\" AND \"MailedAt\" IS NULL");
    }
}
