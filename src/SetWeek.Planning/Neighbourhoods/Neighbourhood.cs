using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Neighbourhoods;

/// <summary>A part of a plan to be decided anew, the rest as it stands.</summary>
internal static class Neighbourhood
{
    /// <summary>All that happens on some nights.</summary>
    public static Freedom Nights(Problem problem, Schedule plan, bool[] nights)
    {
        var stints = StintsWhere(problem, plan, work => nights[work.Night]);
        return new Freedom
        {
            Around = plan, Displays = new bool[problem.Displays.Count], Stints = stints, Hands = stints, Nights = nights,
            Shifts = ShiftsWhere(problem, (_, night) => nights[night]),
        };
    }

    /// <summary>Who works when on a night, and when what is worked on in some hours of it is done.</summary>
    public static Freedom Hours(Problem problem, Schedule plan, int night, Span hours)
    {
        var nights = problem.Nights.Select(other => other.Index == night).ToArray();
        return Roster(problem, plan, nights) with
        {
            Stints = StintsWhere(problem, plan, work => work.Night == night && work.Span.Overlaps(hours)),
        };
    }

    /// <summary>Who works when and on what, all work standing where it is.</summary>
    public static Freedom Roster(Problem problem, Schedule plan, bool[] nights) => new()
    {
        Around = plan, Displays = new bool[problem.Displays.Count], Stints = new bool[problem.Stints.Count],
        Hands = StintsWhere(problem, plan, work => nights[work.Night]), Nights = nights,
        Shifts = ShiftsWhere(problem, (_, night) => nights[night]),
    };

    /// <summary>The nights and places of some tasks, and everybody's shifts around them.</summary>
    public static Freedom Tasks(Problem problem, Schedule plan, Func<Activity, bool> free)
    {
        var stints = problem.Stints.Select(stint => free(stint.Task)).ToArray();
        return new Freedom
        {
            Around = plan, Displays = new bool[problem.Displays.Count], Stints = stints, Hands = stints,
            Nights = [.. problem.Nights.Select(_ => true)], Shifts = ShiftsWhere(problem, (_, _) => true),
        };
    }

    /// <summary>The shifts of some people, and whatever they are on decided anew for everybody on those shifts.</summary>
    public static Freedom People(Problem problem, Schedule plan, bool[] people)
    {
        var theirs = StintsWhere(problem, plan, work => work.People.Any(hand => people[hand.Person]));
        return new Freedom
        {
            Around = plan, Displays = new bool[problem.Displays.Count], Stints = theirs, Hands = theirs,
            Nights = new bool[problem.Nights.Count], Shifts = ShiftsWhere(problem, (person, _) => people[person]),
        };
    }

    /// <summary>Which displays stand, with all the work of those that may come or go.</summary>
    public static Freedom Displays(Problem problem, Schedule plan, bool[] displays) =>
        Tasks(problem, plan, task => displays[task.Display]) with { Displays = displays };

    private static bool[] StintsWhere(Problem problem, Schedule plan, Func<Work, bool> free)
    {
        var byStint = plan.ByStint(problem);
        return [.. byStint.Select(work => work is not null && free(work))];
    }

    private static bool[,] ShiftsWhere(Problem problem, Func<int, int, bool> free)
    {
        var shifts = new bool[problem.Crew.Count, problem.Nights.Count];
        for (var person = 0; person < problem.Crew.Count; person++)
            for (var night = 0; night < problem.Nights.Count; night++) shifts[person, night] = free(person, night);
        return shifts;
    }
}
