using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.Form;

internal sealed class FrozenRule : IRule
{
    public string Id => "frozen";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        if (problem.Facts is not { } facts) return [];
        return [.. OfWork(problem, facts, schedule), .. OfShifts(problem, facts, schedule)];
    }

    private IEnumerable<Breach> OfWork(Problem problem, Facts facts, Schedule schedule)
    {
        var (byStint, placed) = (schedule.ByStint(problem), schedule.Placed(problem));
        foreach (var begun in facts.Begun.OfType<Work>())
            if (byStint[begun.Stint!.Value] is not { } kept || !Same(begun, kept))
                yield return new Breach(Id, Say.About(problem, begun),
                    $"{Say.Work(problem, begun)} has begun and does not stay as it is.");
        foreach (var begun in facts.BegunCleanDowns)
            if (!schedule.Work.Any(work => Same(begun, work)))
                yield return new Breach(Id, Say.About(problem, begun),
                    $"{Say.Work(problem, begun)} has begun and does not stay as it is.");
        foreach (var work in schedule.Work)
        {
            if (work.Stint is { } index ? facts.Begun[index] is not null : facts.BegunCleanDowns.Any(down => Same(down, work)))
                continue;
            if (work.From < facts.Now)
                yield return new Breach(Id, Say.About(problem, work),
                    $"{Say.Work(problem, work)} is new and starts {Say.At(problem, work.From)}, before now, "
                        + $"{Say.At(problem, facts.Now)}.");
            if (work.Stint is not { } stint) continue;
            if (work.From < facts.NotBefore[stint])
                yield return new Breach(Id, Say.About(problem, work), facts.NotBefore[stint] == Problem.Never
                    ? $"{Say.Work(problem, work)} is blocked, nobody knows until when, and is planned."
                    : $"{Say.Work(problem, work)} starts {Say.At(problem, work.From)} and is blocked until "
                        + $"{Say.At(problem, facts.NotBefore[stint])}.");
            if (facts.KeptMode[stint] is { } mode && work.Mode != mode)
                yield return new Breach(Id, Say.About(problem, work),
                    $"{Say.Work(problem, work)} was begun in another way, which the rest of it keeps.");
        }
        foreach (var display in problem.Displays)
            if (facts.StaysPlaced[display.Index] && !placed[display.Index])
                yield return new Breach(Id, new About { Display = display.Id },
                    $"Work of {display.Name} has begun, so it stays in the plan.");
    }

    private IEnumerable<Breach> OfShifts(Problem problem, Facts facts, Schedule schedule)
    {
        foreach (var ended in facts.EndedShifts)
            if (!schedule.Shifts.Contains(ended))
                yield return Of(problem, ended, $"{Whose(problem, ended)} is over and does not stay as it was.");
        foreach (var begun in facts.BegunShifts)
        {
            var kept = schedule.Shifts.FirstOrDefault(shift => SameStart(shift, begun));
            if (kept is null)
                yield return Of(problem, begun,
                    $"{Whose(problem, begun)} has begun and does not keep its start, {Say.At(problem, begun.From)}.");
            else if (kept.To < facts.Now)
                yield return Of(problem, kept,
                    $"{Whose(problem, kept)} ends {Say.At(problem, kept.To)}, before now, {Say.At(problem, facts.Now)}.");
            else if (begun.Break is { } rest && rest.From < facts.Now ? kept.Break != rest : kept.Break?.From < facts.Now)
                yield return Of(problem, kept,
                    $"{Whose(problem, kept)} has another break than the one that began, or one that starts before now.");
        }
        foreach (var shift in schedule.Shifts)
            if (shift.From < facts.Now && !facts.Published.Shifts.Any(old => SameStart(old, shift)))
                yield return Of(problem, shift,
                    $"{Whose(problem, shift)} is new and starts {Say.At(problem, shift.From)}, before now, "
                        + $"{Say.At(problem, facts.Now)}.");
        foreach (var night in problem.Nights)
            if (night.Closes <= facts.Now && schedule.Keyholders[night.Index] != facts.Published.Keyholders[night.Index])
                yield return new Breach(Id, new About { Night = night.Id },
                    $"{InWords.TheNight(problem.Week, night.Id)} is over and keeps the keyholder that it had.");
    }

    private static bool Same(Work one, Work other) =>
        one.Night == other.Night && one.Stint == other.Stint && one.Mode == other.Mode && one.Zone == other.Zone
        && one.Span == other.Span && one.People.Count == other.People.Count && one.People.All(other.People.Contains);

    private static bool SameStart(Shift one, Shift other) =>
        one.Person == other.Person && one.Night == other.Night && one.From == other.From;

    private static string Whose(Problem problem, Shift shift) => $"{problem.Crew[shift.Person].Name}'s shift in "
        + Say.Night(problem, shift.Night);

    private Breach Of(Problem problem, Shift shift, string sentence) => new(Id, Say.About(problem, shift), sentence);
}
