using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Records;

internal static class RecordsApi
{
    public static void MapRecords(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("/record").WithTags("Record");
        group.MapGet("/{chain}", Read).Needs(Act.VerifyRecord).WithSummary("Entries of one chain (operator, tail:ID, station:CODE) after a number, 200 a page");
        group.MapGet("/verification", Verify).Needs(Act.VerifyRecord).WithSummary("Walk every chain; names the first break of each");
    }

    private static async Task<Ok<IReadOnlyList<EntryView>>> Read(string chain, RecordQuery query, CancellationToken stop, long after = 0) =>
        TypedResults.Ok(await query.ReadAsync(ChainKey.Stored(chain), after, stop));

    private static async Task<Ok<Verification>> Verify(RecordQuery query, CancellationToken stop) => TypedResults.Ok(await query.VerifyAsync(stop));
}
