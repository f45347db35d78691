using SetWeek.Model.Weeks;
using NodaTime;
using NodaTime.Text;
using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Tests;

/// <summary>
/// A plan written by hand in clock times of its nights ("23:10", and "01:40" for the morning after). Hands are "ana", for the
/// first skill asked, or "ana:painting".
/// </summary>
internal sealed record TinyPlan(Problem Problem, Schedule Schedule)
{
    /// <summary>Rules that the plan breaks.</summary>
    public string[] BrokenRules => RulesOf(Checker.Check(Problem, Schedule));

    /// <summary>Rules that only the facts break.</summary>
    public string[] UnavoidablyBrokenRules => RulesOf(Checker.UnavoidableBreaches(Problem, Schedule));

    public Breach SingleBreach => Assert.Single(Checker.Check(Problem, Schedule));

    public Plan AsPlan => new() { Week = Problem.Week.Id, Status = PlanStatus.Feasible, Nights = PlanConverter.NightsOf(Problem,
        Schedule) };

    public long Goal(GoalId id) => AllGoals.Of(id).Measure(Problem, Schedule);

    public TinyPlan Shift(string night, string person, string from, string to, string? breakFrom = null, string? breakTo = null)
    {
        Span? rest = breakFrom is null ? null : new(At(night, breakFrom), At(night, breakTo!));
        var shift = new ScheduledShift(Problem.PersonOf(person), Problem.NightOf(night), At(night, from), At(night, to), rest);
        return this with { Schedule = Schedule with { Shifts = [.. Schedule.Shifts, shift] } };
    }

    public TinyPlan Work(string night, string task, string from, string to, params string[] hands) =>
        Stint(night, task, 1, 0, from, to, hands);

    public TinyPlan Stint(string night, string task, int stint, int mode, string from, string to, params string[] hands)
    {
        var activity = Problem.Tasks[Problem.TaskOf(task)];
        return Add(new(Problem.NightOf(night), activity.FirstStint + stint - 1, mode, activity.Zone, At(night, from), At(night,
            to),
            AssignmentsOf(hands, mode < activity.Modes.Count ? activity.Modes[mode] : null)));
    }

    public TinyPlan CleanDown(string night, string zone, string from, string to, params string[] hands)
    {
        var index = Problem.ZoneOf(zone);
        return Add(new(Problem.NightOf(night), null, 0, index, At(night, from), At(night, to), AssignmentsOf(hands,
            Problem.Zones[index].CleanDown)));
    }

    public TinyPlan Keyholder(string night, string person)
    {
        var keyholders = Schedule.Keyholders.ToArray();
        keyholders[Problem.NightOf(night)] = Problem.PersonOf(person);
        return this with { Schedule = Schedule with { Keyholders = keyholders } };
    }

    /// <summary>A report from the floor of one stint; times as in the plan.</summary>
    public ProgressReport Report(string night, string task, WorkState state, string? from = null, string? to = null,
        int stint = 1, int? remaining = null, string? until = null) => new()
    {
        Task = task, Stint = stint, State = state, RemainingMinutes = remaining,
        From = TimeOf(night, from), To = TimeOf(night, to), Until = TimeOf(night, until),
    };

    public ProgressReport ReportCleanDown(string night, string zone, WorkState state, string from, string? to = null) =>
        new() { Night = night, CleanDown = zone, State = state, From = TimeOf(night, from), To = TimeOf(night, to) };

    private static string[] RulesOf(IReadOnlyList<Breach> breaches) => [.. breaches.Select(breach => breach.Rule.Text()).Distinct()];

    private TinyPlan Add(ScheduledWork work) => this with { Schedule = Schedule with { Work = [.. Schedule.Work, work] } };

    private OffsetDateTime? TimeOf(string night, string? clock) => clock is null ? null : Problem.Grid.TimeOf(At(night, clock));

    /// <summary>A clock time before noon belongs to the day after a night that opens in the afternoon.</summary>
    private int At(string night, string clock)
    {
        var opens = Problem.Week.Nights[Problem.NightOf(night)].Opens;
        var time = LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(clock).Value;
        return Problem.Grid.MinuteOf(opens.Date.PlusDays(opens.Hour >= 12 && time.Hour < 12 ? 1 : 0) + time);
    }

    private Assignment[] AssignmentsOf(string[] hands, ActivityMode? mode) => [.. hands.Select(hand => hand.Split(':') is [var person, var skill]
        ? new Assignment(Problem.PersonOf(person), Problem.SkillOf(skill))
        : new Assignment(Problem.PersonOf(hand), mode is { RequiredSkills: [var post, ..] } ? post.Skill : -1))];
}
