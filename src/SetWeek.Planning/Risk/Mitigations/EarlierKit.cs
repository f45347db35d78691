using SetWeek.Model.Changes;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>A kit that comes before the night ahead of the one that it now waits for: what needs it can be done sooner.</summary>
internal sealed record EarlierKit(KitEtaMoved Kit) : MitigationCandidate
{
    public override WeekChange Change => Kit;

    public override bool NeedsNewPlan => true;

    public override MitigationCase? Apply(MitigationCase mitigationCase) =>
        (mitigationCase with { Week = Change.Apply(mitigationCase.Week), PlanningWeek = Change.Apply(mitigationCase.PlanningWeek) }).PlanAgain();

    /// <summary>The kits that the tasks need, where they bar a night that has not passed.</summary>
    public static IEnumerable<MitigationCandidate> For(Problem problem, IEnumerable<int> tasks)
    {
        var now = problem.Facts?.Now ?? -Problem.Never;
        foreach (var id in tasks.SelectMany(task => problem.Week.Tasks[task].Needs).Select(need => need.Kit).Distinct())
        {
            if (problem.Week.Kits.First(kit => kit.Id == id).Eta is not { } eta) continue;
            var barred = problem.Nights.LastOrDefault(night => night.Opens > now && night.Opens < problem.Grid.MinuteOf(eta));
            if (barred is not null) yield return new EarlierKit(new KitEtaMoved(id, problem.Week.Nights[barred.Index].Opens));
        }
    }
}
