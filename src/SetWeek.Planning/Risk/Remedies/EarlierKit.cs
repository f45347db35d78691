using SetWeek.Model.Changes;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Risk.Remedies;

/// <summary>A kit that comes before the night ahead of the one that it now waits for: what needs it can be done sooner.</summary>
internal sealed record EarlierKit(KitIn Kit) : Remedy
{
    public override WeekChange Change => Kit;

    public override bool PlansAnew => true;

    public override Setting? Apply(Setting to) =>
        (to with { Week = Change.Apply(to.Week), Planned = Change.Apply(to.Planned) }).PlanAnew();

    /// <summary>The kits that the tasks need, where they bar a night that has not passed.</summary>
    public static IEnumerable<Remedy> For(Problem problem, IEnumerable<int> tasks)
    {
        var now = problem.Facts?.Now ?? -Problem.Never;
        foreach (var id in tasks.SelectMany(task => problem.Week.Tasks[task].Needs).Select(need => need.Kit).Distinct())
        {
            if (problem.Week.Kits.First(kit => kit.Id == id).Eta is not { } eta) continue;
            var barred = problem.Nights.LastOrDefault(night => night.Opens > now && night.Opens < problem.Grid.MinuteOf(eta));
            if (barred is not null) yield return new EarlierKit(new KitIn(id, problem.Week.Nights[barred.Index].Opens));
        }
    }
}
