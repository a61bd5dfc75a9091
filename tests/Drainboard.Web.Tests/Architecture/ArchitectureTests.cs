using System.Reflection;
using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Architecture;

public sealed class ArchitectureTests(Hosts hosts) : IClassFixture<Hosts>
{
    private static readonly Assembly Domain = typeof(Defect).Assembly;
    private static readonly Assembly Data = typeof(DrainboardDb).Assembly;
    private static readonly Assembly Web = typeof(FeatureSetup).Assembly;

    [Fact]
    public void Domain_LeansOnTimeAndNumericsAlone() =>
        Assert.Equal(["MathNet.Numerics", "NodaTime"], Domain.GetReferencedAssemblies().Select(name => name.Name!).Order(StringComparer.Ordinal).Where(name => !name.StartsWith("System", StringComparison.Ordinal)));

    [Fact]
    public void Data_KnowsNothingOfTheWeb() =>
        Assert.DoesNotContain(Data.GetReferencedAssemblies(), name => name.Name is "Drainboard.Web" or "MudBlazor" or "Microsoft.AspNetCore.Http");

    [Fact]
    public void Domain_TypesAreSealedAbstractOrStatic() =>
        Assert.Empty(Domain.GetTypes().Where(type => type is { IsClass: true, IsSealed: false, IsAbstract: false }).Select(type => type.FullName));

    [Fact]
    public void Handlers_NeverSeeHttpOrAScopedContext()
    {
        var seen = from handler in Handlers()
                   from parameter in handler.GetConstructors().SelectMany(made => made.GetParameters()).Concat(handler.GetMethods(BindingFlags.DeclaredOnly | BindingFlags.Instance | BindingFlags.Public).SelectMany(method => method.GetParameters()))
                   where typeof(HttpContext).IsAssignableFrom(parameter.ParameterType) || typeof(DrainboardDb).IsAssignableFrom(parameter.ParameterType) || parameter.ParameterType.Name.StartsWith(nameof(UserManager<>), StringComparison.Ordinal)
                   select $"{handler.Name} takes {parameter.ParameterType.Name}";

        Assert.Empty(seen);
    }

    /// <summary>Whatever a person can do on a page another program can do over HTTP. The one-time set-up link is for a person alone.</summary>
    [Fact]
    public async Task Handlers_EachHaveARoute()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var routed = host.Services.GetRequiredService<EndpointDataSource>().Endpoints
            .OfType<RouteEndpoint>().Where(endpoint => endpoint.RoutePattern.RawText?.StartsWith("/api/", StringComparison.Ordinal) == true)
            .SelectMany(endpoint => endpoint.Metadata.GetMetadata<MethodInfo>()?.GetParameters() ?? [])
            .Select(parameter => parameter.ParameterType).ToHashSet();

        Assert.Empty(Handlers().Where(handler => handler != typeof(FirstAdministratorHandler) && !routed.Contains(handler)).Select(handler => handler.Name));
    }

    [Fact]
    public void Features_HaveTheSameNamesInDomainDataAndWeb()
    {
        static string[] FeaturesOf(Assembly assembly, string prefix) => [.. assembly.GetTypes().Select(type => type.Namespace).OfType<string>().Where(name => name.StartsWith(prefix, StringComparison.Ordinal)).Select(name => name[prefix.Length..].Split('.')[0]).Distinct()];

        var domain = FeaturesOf(Domain, "Drainboard.Domain.");
        Assert.Empty(FeaturesOf(Data, "Drainboard.Data.").Except([.. domain, "Conversions", "Migrations"]));
        Assert.Empty(domain.Except([.. FeaturesOf(Web, "Drainboard.Web.Features."), "Plumbing", "Recurrence"]));
    }

    private static IEnumerable<Type> Handlers() => Web.GetTypes().Where(type => FeatureSetup.IsHandlerOrQuery(type) && type.Name.EndsWith("Handler", StringComparison.Ordinal));
}
