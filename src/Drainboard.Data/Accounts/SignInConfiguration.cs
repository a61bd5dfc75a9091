using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.Accounts;

internal sealed class SignInConfiguration : IEntityTypeConfiguration<SignIn>
{
    public void Configure(EntityTypeBuilder<SignIn> builder)
    {
        builder.HasKey(signIn => signIn.Id);
        builder.Property(signIn => signIn.Means).HasConversion<string>().HasMaxLength(16);
        builder.Property(signIn => signIn.Agent).HasMaxLength(SignIn.LongestAgent);

        // The person's own list, and all of them ended at once.
        builder.HasIndex(signIn => signIn.Person);
    }
}
