using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class KitRule : IRule
{
    public string Id => "kit";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var needed = problem.Week.Tasks.SelectMany(task => task.Needs).Where(need => need.Item is not null)
            .GroupBy(need => (need.Kit, need.Item!)).ToDictionary(needs => needs.Key, needs => needs.Sum(need => (long)need.Count));
        foreach (var work in schedule.Work)
        {
            if (work.Stint is not { } stint) continue;
            foreach (var need in problem.Week.Tasks[problem.Stints[stint].Task.Index].Needs)
            {
                var kit = problem.Week.Kits.First(kit => kit.Id == need.Kit);
                if (Reason(problem, work, kit, need, needed) is { } reason)
                    yield return new Breach(Id, Say.About(problem, work) with { Kit = kit.Id }, reason) { OnlyFacts = problem.Began(work) };
            }
        }
    }

    private static string? Reason(Problem problem, Work work, Kit kit, Need need, Dictionary<(string, string), long> needed)
    {
        foreach (var line in kit.Lines)
            if ((need.Item is null || need.Item == line.Item) && !line.Settled && line.Received is { } received
                && needed.TryGetValue((kit.Id, line.Item), out var wanted) && received - (line.Damaged ?? 0) < wanted)
                return $"{Say.Work(problem, work)} is planned although {kit.Name} is short: of {line.Item}, {received - (line.Damaged ?? 0)} good where {wanted} are needed, and nobody has settled it.";
        if (kit.Eta is not { } eta)
            return $"{Say.Work(problem, work)} is planned although nobody knows when {kit.Name} comes.";
        return work.From < problem.Grid.MinuteOf(eta)
            ? $"{Say.Work(problem, work)} starts {Say.At(problem, work.From)}, before {kit.Name} comes at {Say.At(problem, problem.Grid.MinuteOf(eta))}."
            : null;
    }
}
