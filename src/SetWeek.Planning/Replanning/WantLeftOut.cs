using SetWeek.Model.Changes;
using SetWeek.Model.Problems;
using SetWeek.Planning.Explaining.Repairs;

namespace SetWeek.Planning.Replanning;

/// <summary>
/// Leaves out the optional display that the facts disturb most; if they disturb none, the least valuable one. A display with work
/// for safety, or another that is essential, is never left out.
/// </summary>
internal sealed class WantLeftOut : IOptionKind
{
    public string Id => "leave-out";

    public OptionSpecification? For(ReplanSituation situation)
    {
        var wants = situation.Problem.Displays.Where(display => display is { Must: false, AlternateOf: null, Tasks.Count: > 0 }
            && situation.MayBeLeftOut(display) && !IsEssential(situation.Problem, display)).ToList();
        var display = situation.Disturbed.FirstOrDefault(wants.Contains) ?? wants.MinBy(want => want.Value);
        if (display is null) return null;
        var (week, change) = (situation.Problem.Week, new LeaveOut(display.Id));
        return new($"Without {display.Name}", change.Sentence(week), change.Apply(week), true);
    }

    private static bool IsEssential(Problem problem, IndexedDisplay display) => !EssentialDisplays.MayBeLeftOut(
        problem.Week, problem.Replan, problem.Week.Displays.First(other => other.Id == display.Id));
}
