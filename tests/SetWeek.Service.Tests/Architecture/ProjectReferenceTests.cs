using System.Reflection;
using SetWeek.Domain.Stores;
using SetWeek.Model.Weeks;
using SetWeek.Planning;

namespace SetWeek.Service.Tests.Architecture;

/// <summary>
/// Projects refer to each other in one direction only: Cli, Service, Domain, Planning, Model (docs/decisions/layout.md).
/// </summary>
public sealed class ProjectReferenceTests
{
    private static readonly Assembly
        Model = typeof(Week).Assembly, Planning = typeof(Planner).Assembly, Domain = typeof(StoreProfile).Assembly,
        Service = typeof(Hosting).Assembly;

    /// <summary>
    /// The check of a rule lies in the model, so it cannot share code with the constraint that the solver gets.
    /// </summary>
    [Fact]
    public void The_model_refers_to_no_solver() =>
        Assert.Equal(["MathNet.Numerics", "NodaTime", "OneOf"], ReferencesOf(Model));

    [Fact]
    public void The_planner_refers_to_the_model_and_the_solver_alone() =>
        Assert.Equal(["Google.OrTools", "Google.Protobuf", "NodaTime", "SetWeek.Model"],
            ReferencesOf(Planning));

    [Fact]
    public void The_domain_refers_to_the_model_and_the_planner_alone() =>
        Assert.Equal(["NodaTime", "OneOf", "SetWeek.Model", "SetWeek.Planning"], ReferencesOf(Domain));

    [Fact]
    public void The_service_refers_to_the_event_store_and_the_message_bus()
    {
        var references = ReferencesOf(Service).ToList();
        Assert.All(["Marten", "Npgsql", "Wolverine", "SetWeek.Domain"], name => Assert.Contains(name, references));
    }

    [Fact]
    public void The_service_does_not_refer_to_the_terminal() => Assert.DoesNotContain("Spectre.Console", ReferencesOf(Service));

    private static IEnumerable<string> ReferencesOf(Assembly assembly) =>
        assembly.GetReferencedAssemblies().Select(name => name.Name!)
            .Where(name => name is not "netstandard" && !name.StartsWith("System", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal);
}
