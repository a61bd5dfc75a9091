using Drainboard.Data.Conversions;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Accounts;

internal sealed class PersonConfiguration : IEntityTypeConfiguration<Person>
{
    public void Configure(EntityTypeBuilder<Person> builder)
    {
        builder.ToTable("People");
        builder.Property(person => person.Roles).HasJson();
        builder.Property(person => person.Stations).HasJson();
        builder.Property(person => person.AuthorisationLimits).HasJson();
        builder.Property(person => person.Version).IsConcurrencyToken();
    }
}
