using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.Order;

internal sealed class KitRule : IRule
{
    public RuleId Id => RuleId.Kit;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var wanted = RequiredCounts(problem.Week);
        foreach (var work in schedule.Work)
        {
            if (work.Stint is not { } stint) continue;
            foreach (var need in problem.Week.Tasks[problem.Stints[stint].Task.Index].Needs)
                for (var kit = 0; kit < problem.Week.Kits.Count; kit++)
                    if (BreachSentence(problem, work, problem.Week.Kits[kit], need, wanted[kit]) is { } reason)
                        yield return new Breach(Id, RulePhrases.Subject(problem, work) with { Kit = need.Kit }, reason)
                            { IsUnavoidable = problem.HasBegun(work) };
        }
    }

    private static string? BreachSentence(Problem problem, ScheduledWork work, Kit kit, KitRequirement need, long[] required)
    {
        if (need.Kit != kit.Id) return null;
        for (var at = 0; at < required.Length; at++)
        {
            var line = kit.Lines[at];
            if (need.Item is { } item && item != line.Item) continue;
            if (!line.Settled && required[at] > 0 && line.Received is { } received && received - (line.Damaged ?? 0) < required[at])
                return $"{RulePhrases.Work(problem, work)} is planned although {kit.Name} is short: of {line.Item}, "
                    + $"{received - (line.Damaged ?? 0)} good where {required[at]} are needed, and nobody has settled it.";
        }
        if (kit.Eta is not { } eta)
            return $"{RulePhrases.Work(problem, work)} is planned although nobody knows when {kit.Name} comes.";
        var arrives = problem.Grid.MinuteOf(eta);
        return work.From >= arrives ? null
            : $"{RulePhrases.Work(problem, work)} starts {RulePhrases.Time(problem, work.From)}, before {kit.Name} comes at "
                + $"{RulePhrases.Time(problem, arrives)}.";
    }

    /// <summary>By kit and line: pieces that all tasks which name the item ask for, placed or not.</summary>
    private static long[][] RequiredCounts(Week week)
    {
        var wanted = new long[week.Kits.Count][];
        for (var kit = 0; kit < wanted.Length; kit++)
        {
            wanted[kit] = new long[week.Kits[kit].Lines.Count];
            foreach (var task in week.Tasks)
                foreach (var need in task.Needs)
                    for (var line = 0; need.Kit == week.Kits[kit].Id && line < wanted[kit].Length; line++)
                        if (need.Item == week.Kits[kit].Lines[line].Item) wanted[kit][line] += need.Count;
        }
        return wanted;
    }
}
