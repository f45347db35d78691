using System.Reflection;
using SetWeek.Domain.Stores;
using SetWeek.Scheduling;

namespace SetWeek.Service.Tests.House;

/// <summary>
/// Cli knows Service, Service knows Domain, Domain knows Scheduling, and nothing points back (docs/decisions/layout.md).
/// </summary>
public sealed class DirectionsOfDependencyTests
{
    private static readonly Assembly
        Scheduling = typeof(Planner).Assembly, Domain = typeof(StoreProfile).Assembly, Service = typeof(Hosting).Assembly;

    [Fact]
    public void The_planner_knows_neither_database_nor_HTTP_nor_the_rest_of_the_house() =>
        Assert.Equal(["Google.OrTools", "Google.Protobuf", "NodaTime", "OneOf"], ReferencesOf(Scheduling));

    [Fact]
    public void The_domain_adds_the_planner_and_nothing_else() =>
        Assert.Equal(["NodaTime", "OneOf", "SetWeek.Scheduling"], ReferencesOf(Domain));

    [Fact]
    public void The_service_alone_knows_where_things_are_kept_and_sent()
    {
        var references = ReferencesOf(Service).ToList();
        Assert.All(["Marten", "Npgsql", "Wolverine", "SetWeek.Domain"], name => Assert.Contains(name, references));
    }

    [Fact]
    public void Only_the_program_knows_the_terminal() => Assert.DoesNotContain("Spectre.Console", ReferencesOf(Service));

    private static IEnumerable<string> ReferencesOf(Assembly assembly) =>
        assembly.GetReferencedAssemblies().Select(name => name.Name!)
            .Where(name => name is not "netstandard" && !name.StartsWith("System", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal);
}
