using System.Reflection;
using SetWeek.Domain.Stores;
using SetWeek.Model.Weeks;
using SetWeek.Planning;

namespace SetWeek.Service.Tests.House;

/// <summary>
/// Cli knows Service, Service knows Domain, Domain knows Planning, Planning knows Model, and nothing points back (docs/decisions/layout.md).
/// </summary>
public sealed class DirectionsOfDependencyTests
{
    private static readonly Assembly
        Model = typeof(Week).Assembly, Planning = typeof(Planner).Assembly, Domain = typeof(StoreProfile).Assembly,
        Service = typeof(Hosting).Assembly;

    /// <summary>So the check of a rule cannot share code with the constraint that is posted for it.</summary>
    [Fact]
    public void The_model_knows_no_solver() => Assert.Equal(["NodaTime", "OneOf"], ReferencesOf(Model));

    [Fact]
    public void The_planner_knows_neither_database_nor_HTTP_nor_the_rest_of_the_house() =>
        Assert.Equal(["Google.OrTools", "Google.Protobuf", "MathNet.Numerics", "NodaTime", "SetWeek.Model"], ReferencesOf(Planning));

    [Fact]
    public void The_domain_knows_the_model_and_the_planner_and_nothing_else() =>
        Assert.Equal(["NodaTime", "OneOf", "SetWeek.Model", "SetWeek.Planning"], ReferencesOf(Domain));

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
