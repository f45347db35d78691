using SetWeek.Model.Changes;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>A night that closes up to an hour later. The plan stays; more of its work fits the night.</summary>
internal sealed record LongerNight(NightWindowMoved Window) : MitigationCandidate
{
    private const int ExtensionMinutes = 60;

    public override WeekChange Change => Window;

    public override MitigationCase Apply(MitigationCase mitigationCase) => mitigationCase.WithChange(Change);

    /// <param name="problem">The problem.</param>
    /// <param name="strained">Indices of the nights that run over, or put off work, most often.</param>
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
