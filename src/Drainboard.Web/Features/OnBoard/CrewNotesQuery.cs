using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.OnBoard;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.OnBoard;

/// <summary>The parts of a layout's cabin that people use, each with its note for crew.</summary>
public sealed class CrewNotesQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<(string Area, CrewNote? Note)>> ReadAsync(string code, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var newest = await db.Layouts.AsNoTracking().Where(layout => layout.Code == code).OrderByDescending(layout => layout.Version).FirstOrDefaultAsync(stop);
        var notes = await db.CrewNotes.AsNoTracking().Where(note => note.Layout == code).ToDictionaryAsync(note => note.Area, stop);
        return newest is null ? [] : [.. newest.Fixtures.Where(fixture => fixture.Kind.IsUsedOnBoard()).OrderBy(fixture => fixture.Along).Select(fixture => fixture.Area).Distinct().Select(area => (area, notes.GetValueOrDefault(area)))];
    }
}
