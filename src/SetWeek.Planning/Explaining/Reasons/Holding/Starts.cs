using SetWeek.Model.Checking;
using SetWeek.Model.Comparing;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>An earlier start that is looked at.</summary>
/// <param name="Stops">Sets of instances, each of which alone would do to bar it.</param>
/// <param name="Open">The plan with it, where it is not barred.</param>
internal sealed record Start(int Night, int Minute, IReadOnlyList<IReadOnlyList<Hold>> Stops, Schedule? Open);

/// <summary>
/// Every start of a stint that is earlier than its own, nearest first, and what bars it. A moment between two nights stands
/// for all of that day.
/// </summary>
internal sealed class Starts
{
    /// <summary>Two tries of people can be stopped by some instances each; no more pairs of them are looked at.</summary>
    private const int MostPairs = 12;

    private readonly Subject subject;
    private readonly Problem problem;
    private readonly Hold[] ofWork;
    private readonly Move move;
    private readonly PeopleHolds people;
    private readonly HashSet<Breach> before;
    private readonly Dictionary<(string, About), Hold> ofAll = [];

    public Starts(Subject subject)
    {
        (this.subject, problem, move) = (subject, subject.Problem, new Move(subject));
        ofWork = [.. OrderHolds.Of(subject), .. CalendarHolds.Of(subject), .. PlaceHolds.Of(subject)];
        people = new PeopleHolds(subject, move);
        before = [.. Checker.Check(problem, subject.Plan)];
    }

    public IEnumerable<Start> NearestFirst()
    {
        for (var night = subject.Work.Night; night >= 0; night--)
        {
            var window = problem.Nights[night];
            var last = Math.Min(window.Closes - subject.Minutes, subject.Work.From - 1);
            for (var steps = (last - window.Opens) / problem.Grid.Minutes; last >= window.Opens && steps >= 0; steps--)
                yield return At(night, window.Opens + steps * problem.Grid.Minutes);
            yield return DayBefore(night);
        }
    }

    /// <summary>From the last start of the night before, or from ever, until the night opens.</summary>
    private Start DayBefore(int night)
    {
        var from = night == 0 ? -Problem.Never : problem.Nights[night - 1].Closes - subject.Minutes + 1;
        var to = problem.Nights[night].Opens;
        return new Start(night, to - problem.Grid.Minutes,
            [.. ofWork.Where(hold => hold.StopsAll(new(from, to))).Select(hold => (IReadOnlyList<Hold>)[hold])], null);
    }

    private Start At(int night, int minute)
    {
        Hold[] bars = [.. ofWork.Where(hold => hold.Stops(minute))];
        if (bars.Length > 0) return new Start(night, minute, [.. bars.Select(hold => (IReadOnlyList<Hold>)[hold])], null);
        var stops = new List<IReadOnlyList<IReadOnlyList<Hold>>>();
        foreach (var tried in Tries(night, minute))
        {
            var plan = move.To(night, minute, tried.Crew ?? []);
            IReadOnlyList<IReadOnlyList<Hold>> stopped = tried.Crew is null ? [tried.Missing] : [.. Broken(plan, night, minute)];
            if (stopped.Count == 0) return new Start(night, minute, [], plan);
            stops.Add(stopped);
        }
        return new Start(night, minute, stops.Count == 1 ? stops[0] : [.. stops[0].SelectMany(one => stops[1]
            .Select(other => (IReadOnlyList<Hold>)[.. one.Union(other)])).Take(MostPairs)], null);
    }

    /// <summary>
    /// Its own people where they can, others who can beside them; then those who are on shift anyway before its own.
    /// </summary>
    private IEnumerable<(Hand[]? Crew, IReadOnlyList<Hold> Missing)> Tries(int night, int minute)
    {
        var span = new Span(minute, minute + subject.Minutes);
        var own = subject.Work.People.Select(hand => hand.Person).ToHashSet();
        var stopped = problem.Crew.Where(person => people.Able(person.Index))
            .ToDictionary(person => person.Index, person => people.Of(person.Index, night, minute));
        int[] free = [.. stopped.Where(one => one.Value.Count == 0).Select(one => one.Key)
            .OrderBy(person => own.Contains(person) ? 0 : IsOn(person) ? 1 : 2).ThenBy(person => person)];
        var first = people.Crew(free);
        yield return (first, first is null ? Missing(stopped, free, own) : []);
        if (first is null) yield break;
        var second = people.Crew([.. free.OrderBy(person => IsOn(person) ? 0 : 1)]);
        if (second is not null && !second.Select(hand => hand.Person).ToHashSet().SetEquals(first.Select(hand => hand.Person)))
            yield return (second, []);

        bool IsOn(int person) => subject.Plan.Shifts.Any(shift =>
            shift.Person == person && shift.Night == night && shift.Span.Contains(span));
    }

    /// <summary>An instance for each of those who are missed, and for none whom it would go without.</summary>
    private List<Hold> Missing(Dictionary<int, IReadOnlyList<Hold>> stopped, int[] free, HashSet<int> own)
    {
        var missed = stopped.Keys.Where(person => stopped[person].Count > 0)
            .OrderBy(person => own.Contains(person) ? 0 : 1).ToList();
        foreach (var person in missed.AsEnumerable().Reverse().ToArray())
        {
            // Whoever is left out of this is taken as free: does it still not do?
            int[] others = [.. free, .. stopped.Keys.Where(one => !missed.Contains(one) && stopped[one].Count > 0), person];
            if (people.Crew(others) is null) missed.Remove(person);
        }
        return missed.Count == 0
            ? [Named(new Breach("skill", Say.About(problem, subject.Work),
                "Too few of the crew have the skills that it asks for."))]
            : [.. missed.Select(person => stopped[person][0])];
    }

    /// <summary>What the whole plan breaks then and does not break now: each instance alone would do.</summary>
    private IEnumerable<IReadOnlyList<Hold>> Broken(Schedule plan, int night, int minute)
    {
        foreach (var breach in Checker.Check(problem, plan))
        {
            if (before.Contains(breach)) continue;
            var hold = Named(breach);
            var keyholder = subject.Plan.Keyholders[night] is { } index ? problem.Crew[index] : null;
            yield return keyholder is not null && breach.About.Person == keyholder.Id && breach.About.Task is null
                && !subject.Plan.Shifts.Any(shift => shift.Night == night && shift.Person == keyholder.Index
                    && shift.From <= minute - (problem.Rules.OpeningMinutes ?? 0)) && problem.Rules.OpeningMinutes > 0
                ? [hold, Opening(keyholder, night)] : [hold];
        }
    }

    private Hold Named(Breach breach)
    {
        if (!ofAll.TryGetValue((breach.Rule, breach.About), out var hold))
            ofAll[(breach.Rule, breach.About)] = hold = new Hold(breach.Rule, breach.About, breach.Sentence);
        return hold;
    }

    private Hold Opening(Person keyholder, int night) => Named(new Breach("open-close",
        new About { Night = problem.Nights[night].Id, Person = keyholder.Id },
        $"{keyholder.Name} opens up {Say.Length(problem.Rules.OpeningMinutes!.Value)} before the night's first work."));

    /// <summary>By goal asked: what it is, and what it would be.</summary>
    public static IReadOnlyList<GoalDifference> Differences(Problem problem, Schedule now, Schedule then) =>
        [.. from choice in problem.Goals
            let goal = AllGoals.Named(choice.Goal)
            select new GoalDifference(choice.Goal, goal.Measure(problem, now), goal.Measure(problem, then))];
}
