using Drainboard.Domain.OnBoard;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Drainboard.Data.OnBoard;

internal sealed class CrewNoteConfiguration : IEntityTypeConfiguration<CrewNote>
{
    public void Configure(EntityTypeBuilder<CrewNote> builder)
    {
        builder.HasKey(note => new { note.Layout, note.Area });
        builder.Property(note => note.Version).IsConcurrencyToken();
    }
}
