using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// Rule instances that no longer bind anything in a re-plan, such as the hours of a night that is over. They cannot be part of a
/// conflict, so the search need not try them.
/// </summary>
internal sealed class PastInstances(Week week, Replan replan)
{
    /// <summary>Rest after a commitment can still bind a shift a day later.</summary>
    private static readonly Period LongestRest = Period.FromDays(1);

    private readonly Problem problem = Problem.Of(week, replan);

    /// <summary>The instance, or the group without its past instances; null if nothing is left.</summary>
    public RelaxableRule? Without(RelaxableRule rule) => rule.Parts.Count == 0 ? IsPast(rule) ? null : rule
        : rule.Parts.Where(part => !IsPast(part)).ToArray() is { Length: > 0 } left ? rule.WithParts(left) : null;

    private bool IsPast(RelaxableRule rule) => rule.Rule switch
    {
        RuleId.Window or RuleId.Ban => IsOver(rule.About.Night!),
        RuleId.Kit => rule.ShortItem is null && week.Kits.First(kit => kit.Id == rule.About.Kit).Eta <= replan.Now,
        RuleId.Due => HasBegun(rule.About.Task!) || problem.BindingDue(TaskOf(rule.About.Task!)) == Problem.Never,
        RuleId.Launch => problem.Displays.All(display => problem.HasPassed(problem.Launch) && display.Must),
        RuleId.Drying or RuleId.SameNight or RuleId.After => HasBegun(rule.About.Task!),
        // Work on the display has begun, so it has to be built whether it is a must or not.
        RuleId.Whole => problem.Facts!.StaysPlaced[problem.DisplayOf(rule.About.Display!)],
        RuleId.Availability => CanAlwaysComeFromNowOn(week.Crew.First(member => member.Id == rule.About.Person)),
        _ => false,
    };

    private IndexedTask TaskOf(string task) => problem.Tasks[problem.TaskOf(task)];

    /// <summary>True if even the night's longest extension is over.</summary>
    private bool IsOver(string night) => WindowExtension.LatestClosing(week, problem.NightOf(night)) <= replan.Now;

    private bool HasBegun(string task) => Enumerable.Range(TaskOf(task).FirstStint, TaskOf(task).StintCount)
        .All(stint => problem.Facts!.BegunWork[stint] is not null);

    private bool CanAlwaysComeFromNowOn(CrewMember member) =>
        week.Nights.All(night => IsOver(night.Id) || member.Available.Contains(new(night.Id)))
        && member.Commitments.All(busy => busy.To.Plus(LongestRest) <= replan.Now);
}
