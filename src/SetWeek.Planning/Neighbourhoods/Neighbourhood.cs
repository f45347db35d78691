using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Neighbourhoods;

/// <summary>Neighbourhoods of a plan: which variables are free. All others are fixed to their values in the plan.</summary>
internal static class Neighbourhood
{
    /// <summary>All work, people and shifts of some nights.</summary>
    public static FreeVariables Nights(Problem problem, Schedule schedule, bool[] nights)
    {
        var stints = StintsWhere(problem, schedule, work => nights[work.Night]);
        return new FreeVariables
        {
            BaseSchedule = schedule, Displays = new bool[problem.Displays.Count], Stints = stints, People = stints,
            Nights = nights, Shifts = ShiftsWhere(problem, (_, night) => nights[night]),
        };
    }

    /// <summary>The shifts and people of one night; the times and modes of stints that overlap some hours of it.</summary>
    public static FreeVariables Hours(Problem problem, Schedule schedule, int night, Span hours)
    {
        var nights = problem.Nights.Select(window => window.Index == night).ToArray();
        return Roster(problem, schedule, nights) with
        {
            Stints = StintsWhere(problem, schedule, work => work.Night == night && work.Span.Overlaps(hours)),
        };
    }

    /// <summary>The shifts and people of some nights; all stints keep their times and modes.</summary>
    public static FreeVariables Roster(Problem problem, Schedule schedule, bool[] nights) => new()
    {
        BaseSchedule = schedule, Displays = new bool[problem.Displays.Count], Stints = new bool[problem.Stints.Count],
        People = StintsWhere(problem, schedule, work => nights[work.Night]), Nights = nights,
        Shifts = ShiftsWhere(problem, (_, night) => nights[night]),
    };

    /// <summary>The times, modes and people of some tasks in any night, and all shifts.</summary>
    public static FreeVariables Tasks(Problem problem, Schedule schedule, Func<IndexedTask, bool> free)
    {
        var stints = problem.Stints.Select(stint => free(stint.Task)).ToArray();
        return new FreeVariables
        {
            BaseSchedule = schedule, Displays = new bool[problem.Displays.Count], Stints = stints, People = stints,
            Nights = [.. problem.Nights.Select(_ => true)], Shifts = ShiftsWhere(problem, (_, _) => true),
        };
    }

    /// <summary>The shifts of some people, and the times, modes and people of the stints that they work on.</summary>
    public static FreeVariables People(Problem problem, Schedule schedule, bool[] people)
    {
        var stints = StintsWhere(problem, schedule, work => work.Assignments.Any(assignment => people[assignment.Person]));
        return new FreeVariables
        {
            BaseSchedule = schedule, Displays = new bool[problem.Displays.Count], Stints = stints, People = stints,
            Nights = new bool[problem.Nights.Count], Shifts = ShiftsWhere(problem, (person, _) => people[person]),
        };
    }

    /// <summary>Whether some displays are placed, with all their tasks, and all shifts.</summary>
    public static FreeVariables Displays(Problem problem, Schedule schedule, bool[] displays) =>
        Tasks(problem, schedule, task => displays[task.Display]) with { Displays = displays };

    private static bool[] StintsWhere(Problem problem, Schedule schedule, Func<ScheduledWork, bool> free) =>
        [.. schedule.WorkByStint(problem).Select(work => work is not null && free(work))];

    private static bool[,] ShiftsWhere(Problem problem, Func<int, int, bool> free)
    {
        var shifts = new bool[problem.Crew.Count, problem.Nights.Count];
        for (var person = 0; person < problem.Crew.Count; person++)
            for (var night = 0; night < problem.Nights.Count; night++) shifts[person, night] = free(person, night);
        return shifts;
    }
}
