using SetWeek.Model.Changes;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>A kit that arrives one night earlier, so that the work that needs it can start earlier.</summary>
internal sealed record EarlierKit(KitEtaMoved Kit) : MitigationCandidate
{
    public override WeekChange Change => Kit;

    public override bool ChangesPlan => false;

    public override MitigationCase Apply(MitigationCase mitigationCase) => mitigationCase.WithChange(Change);

    /// <summary>For each kit that the tasks need and that arrives after some future night has opened.</summary>
    public static IEnumerable<MitigationCandidate> For(Problem problem, IEnumerable<int> tasks)
    {
        var now = problem.Facts?.Now ?? -Problem.Never;
        foreach (var id in tasks.SelectMany(task => problem.Week.Tasks[task].Needs).Select(need => need.Kit).Distinct())
        {
            if (problem.Week.Kits.First(kit => kit.Id == id).Eta is not { } eta) continue;
            var missedNight = problem.Nights.LastOrDefault(night =>
                night.Opens > now && night.Opens < problem.Grid.MinuteOf(eta));
            if (missedNight is not null)
                yield return new EarlierKit(new KitEtaMoved(id, problem.Week.Nights[missedNight.Index].Opens));
        }
    }
}
