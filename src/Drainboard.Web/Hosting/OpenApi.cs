using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using NodaTime;

namespace Drainboard.Web.Hosting;

/// <summary>The contract, OpenAPI 3.1. The document is committed as docs/openapi.json and a test holds it.</summary>
internal static class OpenApi
{
    public const string DocumentName = "v1";

    public static void AddDrainboardOpenApi(this IServiceCollection services) => services.AddOpenApi(DocumentName, options =>
    {
        options.OpenApiVersion = OpenApiSpecVersion.OpenApi3_1;
        options.ShouldInclude = description => description.RelativePath?.StartsWith("api/", StringComparison.Ordinal) == true;
        options.AddSchemaTransformer((schema, context, _) =>
        {
            if (Nullable.GetUnderlyingType(context.JsonTypeInfo.Type) is var inner && (inner ?? context.JsonTypeInfo.Type) is var type)
            {
                if (type == typeof(Instant))
                {
                    (schema.Type, schema.Format) = (JsonSchemaType.String, "date-time");
                }
                else if (type == typeof(LocalDate))
                {
                    (schema.Type, schema.Format) = (JsonSchemaType.String, "date");
                }
                else if (type == typeof(LocalTime))
                {
                    (schema.Type, schema.Format) = (JsonSchemaType.String, "time");
                }
            }

            return Task.CompletedTask;
        });
        options.AddDocumentTransformer((document, _, _) =>
        {
            document.Info = new OpenApiInfo
            {
                Title = "Drainboard",
                Version = "1",
                Description = "Everything a person can do on a page. Send X-Api-Key, or the cookie of a signed-in person. A change of an existing thing carries If-Match with the ETag that was read (428 without, 412 when it has changed since) and may carry Idempotency-Key; a create carries its own id in the body. A lawful refusal is 422 with a stable code in \"refusal\".",
            };
            document.Servers = [];
            document.Components ??= new OpenApiComponents();
            document.Components.SecuritySchemes = new Dictionary<string, IOpenApiSecurityScheme>
            {
                ["apiKey"] = new OpenApiSecurityScheme { Type = SecuritySchemeType.ApiKey, In = ParameterLocation.Header, Name = "X-Api-Key", Description = "A key acts for one account and for no more than its scopes." },
            };
            document.Security = [new OpenApiSecurityRequirement { [new OpenApiSecuritySchemeReference("apiKey", document)] = [] }];
            return Task.CompletedTask;
        });
    });
}
