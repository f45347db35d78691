using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Neighbourhoods;

/// <summary>A part of a plan to be decided anew, the rest as it stands.</summary>
internal static class Neighbourhood
{
    /// <summary>All that happens on some nights.</summary>
    public static FreeVariables Nights(Problem problem, Schedule schedule, bool[] nights)
    {
        var stints = StintsWhere(problem, schedule, work => nights[work.Night]);
        return new FreeVariables
        {
            BaseSchedule = schedule, Displays = new bool[problem.Displays.Count], Stints = stints, People = stints, Nights = nights,
            Shifts = ShiftsWhere(problem, (_, night) => nights[night]),
        };
    }

    /// <summary>Who works when on a night, and when what is worked on in some hours of it is done.</summary>
    public static FreeVariables Hours(Problem problem, Schedule schedule, int night, Span hours)
    {
        var nights = problem.Nights.Select(other => other.Index == night).ToArray();
        return Roster(problem, schedule, nights) with
        {
            Stints = StintsWhere(problem, schedule, work => work.Night == night && work.Span.Overlaps(hours)),
        };
    }

    /// <summary>Who works when and on what, all work standing where it is.</summary>
    public static FreeVariables Roster(Problem problem, Schedule schedule, bool[] nights) => new()
    {
        BaseSchedule = schedule, Displays = new bool[problem.Displays.Count], Stints = new bool[problem.Stints.Count],
        People = StintsWhere(problem, schedule, work => nights[work.Night]), Nights = nights,
        Shifts = ShiftsWhere(problem, (_, night) => nights[night]),
    };

    /// <summary>The nights and places of some tasks, and everybody's shifts around them.</summary>
    public static FreeVariables Tasks(Problem problem, Schedule schedule, Func<IndexedTask, bool> free)
    {
        var stints = problem.Stints.Select(stint => free(stint.Task)).ToArray();
        return new FreeVariables
        {
            BaseSchedule = schedule, Displays = new bool[problem.Displays.Count], Stints = stints, People = stints,
            Nights = [.. problem.Nights.Select(_ => true)], Shifts = ShiftsWhere(problem, (_, _) => true),
        };
    }

    /// <summary>The shifts of some people, and whatever they are on decided anew for everybody on those shifts.</summary>
    public static FreeVariables People(Problem problem, Schedule schedule, bool[] people)
    {
        var theirs = StintsWhere(problem, schedule, work => work.Assignments.Any(assignment => people[assignment.Person]));
        return new FreeVariables
        {
            BaseSchedule = schedule, Displays = new bool[problem.Displays.Count], Stints = theirs, People = theirs,
            Nights = new bool[problem.Nights.Count], Shifts = ShiftsWhere(problem, (person, _) => people[person]),
        };
    }

    /// <summary>Which displays stand, with all the work of those that may come or go.</summary>
    public static FreeVariables Displays(Problem problem, Schedule schedule, bool[] displays) =>
        Tasks(problem, schedule, task => displays[task.Display]) with { Displays = displays };

    private static bool[] StintsWhere(Problem problem, Schedule schedule, Func<ScheduledWork, bool> free)
    {
        var byStint = schedule.WorkByStint(problem);
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
