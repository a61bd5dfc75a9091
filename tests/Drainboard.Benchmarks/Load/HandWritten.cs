using NodaTime;
using Npgsql;

namespace Drainboard.Benchmarks.Load;

/// <summary>
/// What somebody would write by hand to read what a page shows: the same rows, only the columns that are used, straight through Npgsql, every value
/// read. Nothing is made of them: no clocks, no fit, no order.
/// </summary>
internal sealed class HandWritten(NpgsqlDataSource source, Instant now)
{
    private const string Item = "\"Id\", \"Tail\", \"Number\", \"Position\", \"Symptom\", \"Leak\", \"LeakWhere\", \"State\", \"SeenAt\", \"RecordedAt\", \"Repeat\", \"Log\", \"Deferral\", \"Holder\", \"Version\"";
    private const string Carried = "\"Id\", \"Defect\", \"Basis\", \"BasisCode\", \"BasisKind\", \"BeganAt\", \"Certified\", \"Control\", \"ControlReference\", \"Conditions\", \"CountedFrom\", \"DueAt\", \"EndedAt\", \"Extensions\", \"Installed\", \"Log\", \"NoticeDueAt\", \"PlacardFitted\", \"Policy\", \"RenewalOf\", \"Required\", \"StartsAt\", \"Zone\"";
    private const string Stay = "\"Id\", \"Tail\", \"Station\", \"Stand\", \"EstimatedArrival\", \"EstimatedDeparture\", \"OnBlocks\", \"OffBlocks\", \"Returns\", \"Windows\"";
    private const string StationRow = "\"Code\", \"Name\", \"Zone\", \"Capabilities\", \"StaffedFrom\", \"StaffedTo\", \"SlowPercent\", \"CarriedMinutes\"";
    private const string TailRow = "\"Id\", \"Registration\", \"Layout\", \"Deviations\", \"DeliveredOn\"";

    /// <summary>A station's Board.</summary>
    public async Task<int> BoardAsync(string station)
    {
        await using var line = await source.OpenConnectionAsync();
        var read = await RowsAsync(line, $"SELECT {StationRow} FROM \"Stations\" WHERE \"Code\" = $1", station);
        await RowsAsync(line, "SELECT \"Mode\" FROM \"Installations\"");
        var stays = await RowsAsync(line, $"SELECT {Stay} FROM \"Turns\" WHERE \"Station\" = $1 AND \"EstimatedDeparture\" > $2 AND \"EstimatedArrival\" < $3 AND (\"EstimatedDeparture\" > $4 OR (\"OnBlocks\" IS NOT NULL AND \"OffBlocks\" IS NULL))", station, now - Duration.FromHours(12), now + Duration.FromHours(12), now);
        var overdue = stays.Where(stay => (Instant)stay[5] <= now).Select(stay => (Guid)stay[1]).Distinct().ToArray();
        if (overdue.Length > 0)
        {
            await RowsAsync(line, "SELECT \"Tail\", \"Station\", \"EstimatedArrival\", \"OnBlocks\" FROM \"Turns\" WHERE \"Tail\" = ANY($1) AND \"EstimatedArrival\" > $2 AND \"EstimatedArrival\" <= $3", overdue, now - Duration.FromHours(12), now);
        }

        var tails = stays.Select(stay => (Guid)stay[1]).Distinct().ToArray();
        await RowsAsync(line, $"SELECT {TailRow} FROM \"Tails\" WHERE \"Id\" = ANY($1)", tails);
        var items = await ItemsAsync(line, tails);
        await LimitedPartsAsync(line, tails);
        await WaterAsync(line, tails);
        await RoundsAsync(line, tails, [station]);
        var reported = items.Where(item => (string)item[7] == "Reported").Select(item => (Guid)item[1]).Distinct().ToArray();
        if (reported.Length > 0)
        {
            await RowsAsync(line, "SELECT \"Tail\", \"From\", \"To\", \"OffBlock\", \"OnBlock\" FROM \"Sectors\" WHERE \"Tail\" = ANY($1) AND \"OnBlock\" > $2 AND \"OffBlock\" <= $3", reported, now - Duration.FromDays(3), now);
        }

        return read.Count + items.Count;
    }

    /// <summary>One tail's page.</summary>
    public async Task<int> TailAsync(string registration)
    {
        await using var line = await source.OpenConnectionAsync();
        var tail = (Guid)(await RowsAsync(line, $"SELECT {TailRow} FROM \"Tails\" WHERE \"Registration\" = $1", registration))[0][0];
        var stays = await RowsAsync(line, $"SELECT {Stay} FROM \"Turns\" WHERE \"Tail\" = $1 AND \"EstimatedDeparture\" > $2 AND \"EstimatedArrival\" < $3", tail, now - Duration.FromDays(2), now + Duration.FromDays(4));
        var next = stays.Where(stay => (Instant)stay[5] > now).OrderBy(stay => (Instant)stay[4]).Select(stay => (string)stay[2]).FirstOrDefault();
        await RowsAsync(line, $"SELECT {StationRow} FROM \"Stations\" WHERE \"Code\" = $1", next ?? "");
        var items = await ItemsAsync(line, [tail]);
        await RoundsAsync(line, [tail], next is null ? [] : [next]);
        var closed = await RowsAsync(line, "SELECT \"Id\", \"Number\", \"Position\", \"Symptom\", \"Leak\", \"State\", \"Closure\", \"RecordedAt\", \"ClosedAt\", \"Version\" FROM \"Defects\" WHERE \"Tail\" = $1 AND \"ClosedAt\" IS NOT NULL ORDER BY \"ClosedAt\" DESC LIMIT 20", tail);
        await RowsAsync(line, "SELECT \"Defect\", \"Found\", \"RecordedAt\" FROM \"Work\" WHERE \"Defect\" = ANY($1) AND \"ReturnReason\" = ''", closed.Select(row => (Guid)row[0]).ToArray());
        await WaterAsync(line, [tail]);
        return items.Count + closed.Count;
    }

    /// <summary>Every clock of the fleet, with its stays and flights.</summary>
    public async Task<int> ClocksAsync()
    {
        await using var line = await source.OpenConnectionAsync();
        var clocks = await RowsAsync(line, $"SELECT {string.Join(", ", Carried.Split(", ").Select(name => $"f.{name}"))}, d.\"Number\", d.\"Position\", d.\"Symptom\", t.\"Registration\", t.\"Id\", t.\"Layout\" FROM \"Deferrals\" f JOIN \"Defects\" d ON d.\"Id\" = f.\"Defect\" JOIN \"Tails\" t ON t.\"Id\" = d.\"Tail\" WHERE f.\"EndedAt\" IS NULL OR f.\"NoticeDueAt\" IS NOT NULL");
        var tails = clocks.Select(row => (Guid)row[^2]).Distinct().ToArray();
        await RowsAsync(line, $"SELECT {StationRow} FROM \"Stations\"");
        var stays = await RowsAsync(line, $"SELECT {string.Join(", ", Stay.Split(", ").Select(name => $"t.{name}"))} FROM (SELECT \"Tail\", max(CASE WHEN \"DueAt\" > $1 THEN \"DueAt\" ELSE $1 END) AS until FROM \"Deferrals\" WHERE \"EndedAt\" IS NULL OR \"NoticeDueAt\" IS NOT NULL GROUP BY 1) u JOIN \"Turns\" t ON t.\"Tail\" = u.\"Tail\" WHERE t.\"EstimatedDeparture\" > $2 AND t.\"EstimatedArrival\" < u.until AND t.\"EstimatedArrival\" < $3", now + Duration.FromDays(2), now - Duration.FromHours(12), now + Duration.FromDays(40));
        await RowsAsync(line, "SELECT \"Key\", \"Tail\", \"From\", \"To\", \"OffBlock\", \"OnBlock\", \"FlightMinutes\" FROM \"Sectors\" s WHERE \"Tail\" = ANY($1) AND NOT \"Flown\" AND \"OnBlock\" > $2 AND \"OffBlock\" < $3 AND EXISTS (SELECT 1 FROM \"Deferrals\" d WHERE d.\"Tail\" = s.\"Tail\" AND d.\"EndedAt\" IS NULL AND (d.\"DueAt\" < s.\"OnBlock\" OR s.\"OffBlock\" < $2))", tails, now, now + Duration.FromDays(7));
        await RowsAsync(line, "SELECT * FROM \"FleetPlans\"");
        return clocks.Count + stays.Count;
    }

    private static async Task<IReadOnlyList<object[]>> ItemsAsync(NpgsqlConnection line, Guid[] tails)
    {
        var items = await RowsAsync(line, $"SELECT {Item} FROM \"Defects\" WHERE \"Tail\" = ANY($1) AND \"State\" <> 'Closed'", tails);
        await RowsAsync(line, $"SELECT {Carried} FROM \"Deferrals\" WHERE \"Id\" = ANY($1)", items.Select(item => item[12]).OfType<Guid>().ToArray());
        await RowsAsync(line, "SELECT \"Defect\" FROM \"Disturbed\" WHERE \"Tail\" = ANY($1) AND \"RestoredAt\" IS NULL", tails);
        var jobs = await RowsAsync(line, "SELECT j.\"Id\", j.\"Defect\", j.\"StartedAt\", c.\"Steps\" FROM \"Jobs\" j JOIN \"WorkCards\" c ON c.\"Id\" = j.\"Card\" WHERE j.\"Tail\" = ANY($1) AND j.\"EndedAt\" IS NULL", tails);
        if (jobs.Count > 0)
        {
            await RowsAsync(line, "SELECT \"Job\", \"Step\" FROM \"JobSteps\" WHERE \"Job\" = ANY($1) AND NOT \"IsOutdated\"", jobs.Select(job => (Guid)job[0]).ToArray());
        }

        var done = items.Where(item => (string)item[7] == "WorkDone").Select(item => (Guid)item[0]).ToArray();
        if (done.Length > 0)
        {
            await RowsAsync(line, "SELECT \"Defect\", \"OpsCheck\" IS NOT NULL AND \"LeakCheck\" IS NOT NULL FROM \"Work\" WHERE \"Defect\" = ANY($1) AND \"Release\" IS NULL AND \"ReturnReason\" = ''", done);
        }

        return items;
    }

    private async Task LimitedPartsAsync(NpgsqlConnection line, Guid[] tails)
    {
        var parts = await RowsAsync(line, "SELECT \"Id\", \"Tail\", \"Defect\", \"Name\", \"At\" FROM \"Parts\" WHERE \"State\" = 'Fitted' AND \"NeedsCertificate\" AND \"Certificate\" = '' AND \"Tail\" = ANY($1)", tails);
        if (parts.Count == 0)
        {
            return;
        }

        await RowsAsync(line, $"SELECT {StationRow} FROM \"Stations\"");
        foreach (var tail in parts.GroupBy(part => (Guid)part[1]))
        {
            var since = tail.Min(part => (Instant)part[4]);
            await RowsAsync(line, "SELECT \"OffBlock\", \"OnBlock\", \"FlightMinutes\", \"Flown\" FROM \"Sectors\" WHERE \"Tail\" = $1 AND \"OnBlock\" > $2", tail.Key, since);
            await RowsAsync(line, $"SELECT {Stay} FROM \"Turns\" WHERE \"Tail\" = $1 AND \"EstimatedDeparture\" > $2", tail.Key, since);
        }
    }

    private static Task WaterAsync(NpgsqlConnection line, Guid[] tails) =>
        RowsAsync(line, "SELECT \"Tail\", \"Kind\", \"ToldAt\", \"CanShutOff\", \"From\", \"Done\", \"EndedAt\" FROM \"WaterCases\" WHERE \"EndedAt\" IS NULL AND \"Tail\" = ANY($1)", tails);

    private async Task RoundsAsync(NpgsqlConnection line, Guid[] tails, string[] stations)
    {
        await RowsAsync(line, "SELECT * FROM \"PlannedChecks\" c WHERE NOT \"IsRetired\" AND NOT EXISTS (SELECT 1 FROM \"PlannedChecks\" l WHERE l.\"Code\" = c.\"Code\" AND l.\"Number\" > c.\"Number\") ORDER BY \"Code\"");
        await RowsAsync(line, "SELECT \"Tail\", \"Check\", \"Number\", \"Position\", \"Outcome\", \"At\", \"ByName\", \"TakenBackAt\" FROM \"ChecksDone\" WHERE \"IsNewest\" AND \"Tail\" = ANY($1)", tails);
        await RowsAsync(line, "SELECT * FROM \"StandTemperatures\" WHERE \"Station\" = ANY($1) AND \"From\" > $2", stations, now - Duration.FromHours(48));
        await RowsAsync(line, "SELECT \"Tail\", \"FoundAt\", max(\"CompletedAt\") FROM \"Work\" WHERE \"Tail\" = ANY($1) AND \"CompletedAt\" >= $2 AND \"Found\" <> 'Nothing' AND \"ReturnReason\" = '' GROUP BY 1, 2", tails, now - Duration.FromDays(120));
        await RowsAsync(line, "SELECT \"Id\", \"Tail\", \"Position\", \"Moment\", \"Measure\", \"Milliseconds\", \"UncertaintyMilliseconds\", \"IsReference\", \"Reference\", \"ReferenceMilliseconds\", \"ReferenceUncertaintyMilliseconds\", \"SlowPercent\", \"PouredAt\" FROM \"Pours\" WHERE \"Tail\" = ANY($1) AND \"PouredAt\" >= $2 AND \"WithdrawnAt\" IS NULL", tails, now - Duration.FromDays(120));
    }

    private static async Task<IReadOnlyList<object[]>> RowsAsync(NpgsqlConnection line, string sql, params object[] values)
    {
        await using var command = new NpgsqlCommand(sql, line);
        foreach (var value in values)
        {
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        }

        await using var reader = await command.ExecuteReaderAsync();
        var rows = new List<object[]>();
        while (await reader.ReadAsync())
        {
            var row = new object[reader.FieldCount];
            reader.GetValues(row);
            rows.Add(row);
        }

        return rows;
    }
}
