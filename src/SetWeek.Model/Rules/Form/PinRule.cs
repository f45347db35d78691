using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Form;

/// <summary>
/// The pin rule: the plan agrees with every pin, that of a task not placed excepted. A re-plan cannot keep what a pin says of
/// begun work, of a begun shift's start, or of a time before now.
/// </summary>
internal sealed class PinRule : IRule
{
    public RuleId Id => RuleId.Pin;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var (works, shifts) = (schedule.WorkByStint(problem), schedule.ShiftsByPersonNight());
        foreach (var pin in problem.Pins.Stints)
            if (works[pin.Stint] is { } work)
                foreach (var breach in Check(problem, pin, work)) yield return breach;
        foreach (var pin in problem.Pins.Shifts)
            foreach (var breach in Check(problem, pin, shifts.GetValueOrDefault((pin.Person, pin.Night)))) yield return breach;
    }

    private IEnumerable<Breach> Check(Problem problem, PinnedStint pin, ScheduledWork work)
    {
        var (about, name) = (RulePhrases.Subject(problem, work), RulePhrases.Work(problem, work).TrimEnd(','));
        var begun = problem.HasBegun(work);
        if (pin.Night is { } night && work.Night != night)
            yield return new Breach(Id, about,
                $"{name} is pinned to {RulePhrases.Night(problem, night)}, but is in {RulePhrases.Night(problem, work.Night)}.")
                { IsUnavoidable = begun || problem.HasPassed(problem.Nights[night].Closes) };
        if (pin.From is { } from && work.From != from)
            yield return new Breach(Id, about,
                $"{name} is pinned to {RulePhrases.Time(problem, from)}, but starts {RulePhrases.Time(problem, work.From)}.")
                { IsUnavoidable = begun || problem.IsBeforeNow(from) };
        foreach (var person in pin.People)
            if (work.Assignments.All(assignment => assignment.Person != person))
                yield return new Breach(Id, about with { Person = problem.Crew[person].Id },
                    $"{problem.Crew[person].Name} is pinned to {name}, but is not on it.") { IsUnavoidable = begun };
    }

    private IEnumerable<Breach> Check(Problem problem, PinnedShift pin, ScheduledShift? shift)
    {
        var about = new RuleSubject { Night = problem.Nights[pin.Night].Id, Person = problem.Crew[pin.Person].Id };
        var (name, night) = (problem.Crew[pin.Person].Name, RulePhrases.Night(problem, pin.Night));
        if (pin.Off)
        {
            if (shift is not null)
                yield return new Breach(Id, about, $"{name} is pinned off in {night}, but has a shift.")
                    { IsUnavoidable = problem.HasBegun(shift) };
            yield break;
        }
        if (shift is null)
        {
            yield return new Breach(Id, about, $"{name} is pinned to a shift in {night}, but has none.")
                { IsUnavoidable = problem.HasPassed(problem.Nights[pin.Night].Closes) };
            yield break;
        }
        if (pin.From is { } from && shift.From != from)
            yield return new Breach(Id, about,
                $"{name}'s shift is pinned to start {RulePhrases.Time(problem, from)}, but starts "
                    + $"{RulePhrases.Time(problem, shift.From)}.")
                { IsUnavoidable = problem.HasBegun(shift) || problem.IsBeforeNow(from) };
        if (pin.To is { } to && shift.To != to)
            yield return new Breach(Id, about,
                $"{name}'s shift is pinned to end {RulePhrases.Time(problem, to)}, but ends "
                    + $"{RulePhrases.Time(problem, shift.To)}.")
                { IsUnavoidable = problem.HasEnded(shift) || problem.HasPassed(to)
                    || problem.Facts?.EarliestEnds.GetValueOrDefault((pin.Person, pin.Night)) > to };
    }
}
