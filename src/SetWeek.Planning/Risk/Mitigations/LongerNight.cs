using SetWeek.Model.Changes;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>A night that closes later: the plan is the same, and more of it fits.</summary>
internal sealed record LongerNight(NightWindowMoved Window) : MitigationCandidate
{
    private const int ExtensionMinutes = 60;

    public override WeekChange Change => Window;

    public override MitigationCase Apply(MitigationCase mitigationCase) => mitigationCase with { Week = Change.Apply(mitigationCase.Week), PlanningWeek = Change.Apply(mitigationCase.PlanningWeek) };

    /// <summary>The nights that run over, or that work is put off from, most often.</summary>
    public static IEnumerable<MitigationCandidate> For(Problem problem, IEnumerable<int> strained)
    {
        foreach (var index in strained)
        {
            var night = problem.Week.Nights[index];
            var latest = index + 1 < problem.Nights.Count && problem.Week.Nights[index + 1].Opens < problem.Week.Launch
                ? problem.Week.Nights[index + 1].Opens : problem.Week.Launch;
            var closes = night.Closes.PlusMinutes(ExtensionMinutes);
            if (closes > latest) closes = latest;
            if (closes > night.Closes) yield return new LongerNight(new NightWindowMoved(night.Id, Closes: closes));
        }
    }
}
