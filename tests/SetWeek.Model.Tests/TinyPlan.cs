using NodaTime;
using NodaTime.Text;
using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests;

/// <summary>
/// A plan written by hand. Times are clock times of a night, for example "23:10", or "01:40" for the morning after. A person is
/// "ana", for the first skill that the work requires, or "ana:painting" for that skill.
/// </summary>
internal sealed record TinyPlan(Problem Problem, Schedule Schedule)
{
    /// <summary>Ids of the rules that the plan breaks.</summary>
    public string[] BrokenRules => RulesOf(Checker.Check(Problem, Schedule));

    /// <summary>Ids of the rules with breaches that no plan can avoid any more.</summary>
    public string[] UnavoidablyBrokenRules => RulesOf(Checker.UnavoidableBreaches(Problem, Schedule));

    public Breach SingleBreach => Assert.Single(Checker.Check(Problem, Schedule));

    public Plan AsPlan => new()
    {
        Week = Problem.Week.Id, Status = PlanStatus.Feasible, Nights = PlanConverter.NightsOf(Problem, Schedule),
    };

    public long Goal(GoalId id) => AllGoals.Of(id).Measure(Problem, Schedule);

    public TinyPlan Shift(string night, string person, string from, string to, string? breakFrom = null, string? breakTo = null)
    {
        Span? breakSpan = breakFrom is null ? null : new(At(night, breakFrom), At(night, breakTo!));
        var shift = new ScheduledShift(Problem.PersonOf(person), Problem.NightOf(night), At(night, from), At(night, to),
            breakSpan);
        return this with { Schedule = Schedule with { Shifts = [.. Schedule.Shifts, shift] } };
    }

    public TinyPlan Work(string night, string task, string from, string to, params string[] people) =>
        Stint(night, task, 1, 0, from, to, people);

    public TinyPlan Stint(string night, string task, int stint, int mode, string from, string to, params string[] people)
    {
        var activity = Problem.Tasks[Problem.TaskOf(task)];
        return Add(new(Problem.NightOf(night), activity.FirstStint + stint - 1, mode, activity.Zone,
            At(night, from), At(night, to), AssignmentsOf(people, mode < activity.Modes.Count ? activity.Modes[mode] : null)));
    }

    public TinyPlan CleanDown(string night, string zone, string from, string to, params string[] people)
    {
        var index = Problem.ZoneOf(zone);
        return Add(new(Problem.NightOf(night), null, 0, index, At(night, from), At(night, to),
            AssignmentsOf(people, Problem.Zones[index].CleanDown)));
    }

    public TinyPlan Keyholder(string night, string person)
    {
        var keyholders = Schedule.Keyholders.ToArray();
        keyholders[Problem.NightOf(night)] = Problem.PersonOf(person);
        return this with { Schedule = Schedule with { Keyholders = keyholders } };
    }

    /// <summary>A progress report of one stint, with times as in the plan.</summary>
    public ProgressReport Report(string night, string task, WorkState state, string? from = null, string? to = null,
        int stint = 1, int? remaining = null, string? until = null) => new()
    {
        Task = task, Stint = stint, State = state, RemainingMinutes = remaining,
        From = TimeOf(night, from), To = TimeOf(night, to), Until = TimeOf(night, until),
    };

    public ProgressReport ReportCleanDown(string night, string zone, WorkState state, string from, string? to = null) =>
        new() { Night = night, CleanDown = zone, State = state, From = TimeOf(night, from), To = TimeOf(night, to) };

    private static string[] RulesOf(IReadOnlyList<Breach> breaches) =>
        [.. breaches.Select(breach => breach.Rule.Text()).Distinct()];

    private TinyPlan Add(ScheduledWork work) => this with { Schedule = Schedule with { Work = [.. Schedule.Work, work] } };

    private OffsetDateTime? TimeOf(string night, string? clock) => clock is null ? null : Problem.Grid.TimeOf(At(night, clock));

    /// <summary>In a night that opens in the afternoon, a clock time before noon is on the next day.</summary>
    private int At(string night, string clock)
    {
        var opens = Problem.Week.Nights[Problem.NightOf(night)].Opens;
        var time = LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(clock).Value;
        return Problem.Grid.MinuteOf(opens.Date.PlusDays(opens.Hour >= 12 && time.Hour < 12 ? 1 : 0) + time);
    }

    private Assignment[] AssignmentsOf(string[] people, ActivityMode? mode) =>
        [.. people.Select(text => text.Split(':') is [var person, var skill]
            ? new Assignment(Problem.PersonOf(person), Problem.SkillOf(skill))
            : new Assignment(Problem.PersonOf(text), mode is { RequiredSkills: [var required, ..] } ? required.Skill : -1))];
}
