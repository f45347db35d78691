using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.Places;

internal sealed class CleanDownRule : IRule
{
    public string Id => "clean-down";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var night in problem.Nights)
            foreach (var zone in problem.Zones)
                foreach (var breach in InZone(problem, schedule, night, zone))
                    yield return breach;
    }

    private IEnumerable<Breach> InZone(Problem problem, Schedule schedule, NightWindow night, ZoneRoom zone)
    {
        List<Work> works = [], downs = [];
        foreach (var work in schedule.Work)
        {
            if (work.Night != night.Index || work.Zone != zone.Index) continue;
            if (work.IsCleanDown) downs.Add(work);
            else if (!problem.Stints[work.Stint!.Value].Task.Last) works.Add(work);
        }
        if (zone.CleanDown is not { } way || works.Count == 0)
        {
            foreach (var down in downs)
                yield return Of(problem, down,
                    $"{zone.Name} has a clean-down in {Say.Night(problem, night.Index)} and "
                        + $"{(zone.CleanDown is null ? "needs none" : "nobody works in it")}.",
                    problem.Began(down));
            yield break;
        }
        if (downs.Count == 0)
            yield return new Breach(Id, new About { Night = night.Id, Zone = zone.Id },
                $"{zone.Name} is worked in during {Say.Night(problem, night.Index)} and has no clean-down.")
                { OnlyFacts = TooLate(problem, night, way, works) };
        if (downs.Count > 1)
            yield return new Breach(Id, new About { Night = night.Id, Zone = zone.Id },
                $"{zone.Name} has {downs.Count} clean-downs in {Say.Night(problem, night.Index)}; one is wanted.")
                { OnlyFacts = downs.TrueForAll(down => problem.Began(down)) };
        foreach (var down in downs)
        {
            if (!problem.Began(down) && down.Span.Minutes != way.Minutes)
                yield return Of(problem, down,
                    $"Clean-down of {zone.Name} has {Say.Length(down.Span.Minutes)} and takes {Say.Length(way.Minutes)}.");
            foreach (var work in works)
                if (down.From < work.To)
                    yield return Of(problem, down,
                        $"Clean-down of {zone.Name} starts {Say.At(problem, down.From)}, before {Say.Work(problem, work)} "
                            + $"ends there {Say.At(problem, work.To)}.",
                        problem.Began(down) && problem.Began(work));
        }
    }

    /// <summary>All the zone's work of the night has begun, and after it no clean-down fits in before the night closes.</summary>
    private static bool TooLate(Problem problem, NightWindow night, Way way, List<Work> works) =>
        problem.Facts is { } facts && works.TrueForAll(work => problem.Began(work))
        && problem.NextSlot(night.Index, Math.Max(facts.Now, works.Max(work => work.To))) + way.Minutes > night.Closes;

    private Breach Of(Problem problem, Work down, string sentence, bool onlyFacts = false) =>
        new(Id, Say.About(problem, down), sentence) { OnlyFacts = onlyFacts };
}
