using System.Text.Json;
using System.Text.Json.Serialization;
using NodaTime;
using NodaTime.Serialization.SystemTextJson;

namespace Drainboard.Web.Hosting;

/// <summary>
/// JSON on the wire is strict: instants with an offset or Z, no unknown members, nothing required left out, enums by name.
/// </summary>
internal static class Wire
{
    public static JsonSerializerOptions Configure(JsonSerializerOptions options)
    {
        options.PropertyNamingPolicy = JsonNamingPolicy.CamelCase;
        options.Converters.Insert(0, new InstantAnyOffset());
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false));
        options.ConfigureForNodaTime(DateTimeZoneProviders.Tzdb);
        options.RespectRequiredConstructorParameters = true;
        options.RespectNullableAnnotations = true;
        options.AllowOutOfOrderMetadataProperties = true;
        options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow;
        return options;
    }

    public static IServiceCollection AddDrainboardWire(this IServiceCollection services)
    {
        services.ConfigureHttpJsonOptions(options => Configure(options.SerializerOptions));
        services.Configure<RouteHandlerOptions>(options => options.ThrowOnBadRequest = true);
        services.AddProblemDetails();
        services.AddExceptionHandler<BadRequestWords>();
        services.AddExceptionHandler<DatabaseAwayWords>();
        services.AddDrainboardOpenApi();
        return services;
    }
}
