using Drainboard.Planning;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Board;
using Drainboard.Web.Features.Network;
using Drainboard.Web.Features.OnBoard;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Demo;
using Drainboard.Web.Features.Departure;
using Drainboard.Web.Features.Devices;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Handovers;
using Drainboard.Web.Features.Isolation;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Lavatories;
using Drainboard.Web.Features.Live;
using Drainboard.Web.Features.PlannedChecks;
using Drainboard.Web.Features.Plumbing;
using Drainboard.Web.Features.PotableWater;
using Drainboard.Web.Features.Pours;
using Drainboard.Web.Features.Records;
using Drainboard.Web.Features.Rectification;
using Drainboard.Web.Features.Reliability;
using Drainboard.Web.Features.SetUp;
using Drainboard.Web.Features.ShiftPlans;
using Drainboard.Web.Features.Tanks;
using Drainboard.Web.Features.TurnFit;
using Drainboard.Web.Features.Turns;
using Drainboard.Web.Features.Warnings;
using Drainboard.Web.Hosting;

namespace Drainboard.Web.Features;

/// <summary>The slices of the program, each with its handlers, queries and routes.</summary>
internal static class FeatureSetup
{
    public static IServiceCollection AddDrainboardFeatures(this IServiceCollection services)
    {
        services.AddSingleton<ChangeFeed>();
        services.AddSingleton<OneDoor>();
        services.AddSingleton<ItemDoor>();
        services.AddSingleton<WaterCaseDoor>();
        services.AddSingleton<TankDoor>();
        services.AddSingleton<LayoutCatalog>();
        services.AddSingleton<FleetJobs>();
        services.AddSingleton<DrainPours>();
        services.AddSingleton<Rounds>();
        services.AddSingleton<ShiftDrafts>();
        services.AddSingleton<SolverQueue>();
        services.AddSingleton<NetworkDrafts>();
        services.AddSingleton<NetworkSolver>();
        services.AddSingleton<ShiftSolver>();
        services.AddSingleton<Secrets>();
        services.AddSingleton<SigningCodes>();
        services.AddSingleton<Pins>();
        services.AddSingleton<CrewTickets>();
        services.AddSingleton<ThisDevice>();
        services.AddSingleton<ReportsUnderway>();
        services.AddSingleton<PhotoParts>();
        services.AddSingleton<ReportShell>();
        services.AddSingleton<DemoLoader>();
        services.AddSingleton<Importer>();
        services.AddSingleton<WarningMaker>();
        services.AddSingleton<SealMaker>();
        services.AddSingleton<SealPublisher>();
        services.AddSingleton<Backups>();
        services.AddSingleton<WarningMailer>();
        services.AddSingleton<StandingsMaker>();
        services.AddSingleton<ReliabilityPaper>();
        foreach (var type in typeof(FeatureSetup).Assembly.GetTypes().Where(IsHandlerOrQuery))
        {
            services.AddSingleton(type);
        }

        return services;
    }

    public static void MapDrainboardFeatures(this WebApplication app)
    {
        app.MapHealth();
        app.MapPreferences();
        app.MapPasskeys();
        app.MapCalendar();
        ReportShell.Map(app);
        app.MapOpenApi("/openapi/{documentName}.json").RequireAuthorization();
        var api = app.MapGroup("/api/v1").RequireAuthorization();
        api.MapAccounts();
        api.MapDevices();
        api.MapBoard();
        api.MapFleet();
        api.MapReports();
        api.MapDefects();
        api.MapCabin();
        api.MapItemPapers();
        api.MapDeferrals();
        api.MapComputeClock();
        api.MapComputeIsolation();
        api.MapComputeOpenness();
        api.MapComputeRepeats();
        api.MapComputeTrend();
        api.MapComputeCleaning();
        api.MapComputeSpares();
        api.MapComputeTurnFit();
        api.MapComputeShiftPlan();
        api.MapComputeLavatoryQueue();
        api.MapLavatories();
        api.MapComputeSampling();
        api.MapPotableWater();
        api.MapTanks();
        api.MapPlannedChecks();
        api.MapRepeats();
        api.MapFleetHistory();
        api.MapCards();
        api.MapRectification();
        api.MapPours();
        api.MapAdvice();
        api.MapPlumbing();
        api.MapTurns();
        api.MapTurnFit();
        api.MapShiftPlans();
        api.MapNetwork();
        api.MapRecords();
        api.MapSetUp();
        api.MapDeparture();
        api.MapHandovers();
        api.MapWarnings();
        api.MapFallback(() => AnswerHttp.Problem(StatusCodes.Status404NotFound, "Not found", "There is no such address under /api/v1. The contract is at /openapi/v1.json.", "not-found"));
    }

    /// <summary>A handler or query is a sealed class whose name ends so; they hold no state, so one of each serves all.</summary>
    public static bool IsHandlerOrQuery(Type type) =>
        type is { IsClass: true, IsAbstract: false, IsSealed: true, IsNested: false }
        && type.Namespace?.StartsWith("Drainboard.Web.Features.", StringComparison.Ordinal) == true
        && (type.Name.EndsWith("Handler", StringComparison.Ordinal) || type.Name.EndsWith("Query", StringComparison.Ordinal));
}
