using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Drainboard.Web.Features.SetUp;

/// <summary>Files by name with their text: "stations.csv", "tails.json" and so on.</summary>
/// <param name="OwnPassword">The administrator's own, where people are added or changed; an API key needs none.</param>
public sealed record ImportRequest(IReadOnlyDictionary<string, string> Files, bool Dry = false, string? OwnPassword = null);

internal static class SetUpApi
{
    public static void MapSetUp(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Set-up");
        group.MapPost("/import", Import).Needs(Act.Import).ProducesProblem(422).WithSummary("Check and import files; nothing is saved unless every row is well. The same files again change nothing");
        group.MapGet("/installation", Read).Needs(Act.Look).OpenToGuests().WithSummary("Whose installation this is, beside the log or as the record, and its rules");
        group.MapPut("/installation", Change).Needs(Act.ChangeInstallation).Changes().WithSummary("Change the installation's mode and rules");
    }

    private static async Task<Results<Ok<ImportReport>, UnprocessableEntity<ImportReport>>> Import(ImportRequest request, Importer importer, HttpContext http, CancellationToken stop)
    {
        var report = await importer.RunAsync(request.Files, request.Dry, http.Actor(), stop, request.OwnPassword);
        return report.Clean ? TypedResults.Ok(report) : TypedResults.UnprocessableEntity(report);
    }

    private static async Task<Ok<InstallationView>> Read(InstallationQuery query, HttpContext http, CancellationToken stop)
    {
        var view = await query.ReadAsync(stop);
        http.Response.Headers.ETag = AnswerHttp.Tag(view.Version);
        return TypedResults.Ok(view);
    }

    private static async Task<ChangeResult> Change(ChangeInstallationRequest request, ChangeInstallationHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), request, stop)).ToHttp(http);
}
