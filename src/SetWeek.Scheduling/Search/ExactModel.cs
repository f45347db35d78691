using Google.OrTools.Sat;

namespace SetWeek.Scheduling.Search;

/// <summary>The whole problem as a constraint model: variables here, one constraint a rule in Rules, one expression a goal in Goals.</summary>
internal sealed class ExactModel(Problem problem)
{
    public Problem Problem { get; } = problem;
    public CpModel Cp { get; } = new();
}
