using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.Order;

/// <summary>
/// The kit rule: no stint starts before the kits that it needs have arrived, and none is planned if the arrival is unknown or
/// a line that it needs is short. A counted line is short if its good pieces are fewer than all tasks together need, planned
/// or not. A line that is not counted yet, or that is settled, is never short.
/// </summary>
internal sealed class KitRule : IRule
{
    public RuleId Id => RuleId.Kit;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var required = RequiredCounts(problem.Week);
        foreach (var work in schedule.Work)
        {
            if (work.Stint is not { } stint) continue;
            foreach (var need in problem.Week.Tasks[problem.Stints[stint].Task.Index].Needs)
                for (var kit = 0; kit < problem.Week.Kits.Count; kit++)
                    if (BreachSentence(problem, work, problem.Week.Kits[kit], need, required[kit]) is { } sentence)
                        yield return new Breach(Id, RulePhrases.Subject(problem, work) with { Kit = need.Kit }, sentence)
                            { IsUnavoidable = problem.HasBegun(work) };
        }
    }

    private static string? BreachSentence(Problem problem, ScheduledWork work, Kit kit, KitRequirement need, long[] required)
    {
        if (need.Kit != kit.Id) return null;
        for (var index = 0; index < required.Length; index++)
        {
            var line = kit.Lines[index];
            if (need.Item is { } item && item != line.Item) continue;
            if (!line.Settled && required[index] > 0
                && line.Received is { } received && received - (line.Damaged ?? 0) < required[index])
                return $"{RulePhrases.Work(problem, work)} is planned although “{kit.Name}” is short of “{line.Item}”: "
                    + $"{required[index]} are needed, {received - (line.Damaged ?? 0)} are counted as undamaged, and the "
                    + "shortage is not resolved yet.";
        }
        if (kit.Eta is not { } eta)
            return $"{RulePhrases.Work(problem, work)} is planned although the arrival of “{kit.Name}” is unknown.";
        var arrives = problem.Grid.MinuteOf(eta);
        return work.From >= arrives ? null
            : $"{RulePhrases.Work(problem, work)} starts {RulePhrases.Time(problem, work.From)}, before “{kit.Name}” arrives at "
                + $"{RulePhrases.Time(problem, arrives)}.";
    }

    /// <summary>By kit and line: pieces that all tasks together need of the item, planned or not.</summary>
    private static long[][] RequiredCounts(Week week)
    {
        var required = new long[week.Kits.Count][];
        for (var kit = 0; kit < required.Length; kit++)
        {
            required[kit] = new long[week.Kits[kit].Lines.Count];
            foreach (var task in week.Tasks)
                foreach (var need in task.Needs)
                    for (var line = 0; need.Kit == week.Kits[kit].Id && line < required[kit].Length; line++)
                        if (need.Item == week.Kits[kit].Lines[line].Item) required[kit][line] += need.Count;
        }
        return required;
    }
}
