using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.Places;

/// <summary>
/// The clean-down rule: a zone that defines a clean-down has exactly one in each night in which it was worked in, the last
/// task apart. It lasts its defined minutes and starts after all that work. Any other zone or night has none.
/// </summary>
internal sealed class CleanDownRule : IRule
{
    public RuleId Id => RuleId.CleanDown;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var night in problem.Nights)
            foreach (var zone in problem.Zones)
                foreach (var breach in ZoneBreaches(problem, schedule, night, zone))
                    yield return breach;
    }

    private IEnumerable<Breach> ZoneBreaches(Problem problem, Schedule schedule, NightWindow night, IndexedZone zone)
    {
        List<ScheduledWork> works = [], downs = [];
        foreach (var work in schedule.Work)
        {
            if (work.Night != night.Index || work.Zone != zone.Index) continue;
            if (work.IsCleanDown) downs.Add(work);
            else if (!problem.Stints[work.Stint!.Value].Task.IsLastTask) works.Add(work);
        }
        if (zone.CleanDown is not { } mode || works.Count == 0)
        {
            foreach (var down in downs)
                yield return BreachOf(problem, down,
                    $"{zone.Name} has a clean-down in {RulePhrases.Night(problem, night.Index)}, but "
                        + $"{(zone.CleanDown is null ? "needs none" : "nobody works in it")}.",
                    problem.HasBegun(down));
            yield break;
        }
        if (downs.Count == 0)
            yield return new Breach(Id, new RuleSubject { Night = night.Id, Zone = zone.Id },
                $"{zone.Name} is worked in during {RulePhrases.Night(problem, night.Index)}, but has no clean-down.")
                { IsUnavoidable = TooLate(problem, night, mode, works) };
        if (downs.Count > 1)
            yield return new Breach(Id, new RuleSubject { Night = night.Id, Zone = zone.Id },
                $"{zone.Name} has {downs.Count} clean-downs in {RulePhrases.Night(problem, night.Index)}; it needs exactly one.")
                { IsUnavoidable = downs.TrueForAll(down => problem.HasBegun(down)) };
        foreach (var down in downs)
        {
            if (!problem.HasBegun(down) && down.Span.Minutes != mode.Minutes)
                yield return BreachOf(problem, down,
                    $"Clean-down of {zone.Name} is planned for {RulePhrases.Duration(down.Span.Minutes)}, but takes "
                        + $"{RulePhrases.Duration(mode.Minutes)}.");
            foreach (var work in works)
                if (down.From < work.To)
                    yield return BreachOf(problem, down,
                        $"Clean-down of {zone.Name} starts {RulePhrases.Time(problem, down.From)}, before "
                            + $"{RulePhrases.Work(problem, work)} ends there {RulePhrases.Time(problem, work.To)}.",
                        problem.HasBegun(down) && problem.HasBegun(work));
        }
    }

    /// <summary>
    /// True if all work of the zone has begun and ends so late that no clean-down fits before the night closes.
    /// </summary>
    private static bool TooLate(Problem problem, NightWindow night, ActivityMode mode, List<ScheduledWork> works) =>
        problem.Facts is { } facts && works.TrueForAll(work => problem.HasBegun(work))
        && problem.NextSlot(night.Index, Math.Max(facts.Now, works.Max(work => work.To))) + mode.Minutes > night.Closes;

    private Breach BreachOf(Problem problem, ScheduledWork down, string sentence, bool unavoidable = false) =>
        new(Id, RulePhrases.Subject(problem, down), sentence) { IsUnavoidable = unavoidable };
}
