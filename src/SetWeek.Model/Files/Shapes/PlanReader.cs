using NodaTime;
using SetWeek.Model.Files.Validation;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Shapes;

/// <summary>
/// Reads the fields of a plan and checks the kind and range of each. <see cref="PlanFaults"/> checks them against a week.
/// </summary>
internal static class PlanReader
{
    private const int MaxWork = WeekLimits.TotalStints + WeekLimits.Zones,
        MaxNotes = WeekLimits.Nights * WeekLimits.Bans + WeekLimits.People * WeekLimits.Available;

    /// <summary>Reads a plan. Faults are added to the cursor.</summary>
    public static Plan Plan(JsonCursor cursor) => cursor.Object(at =>
    {
        var plan = new Plan
        {
            Week = at.Id("week"),
            Status = at.Choice<PlanStatus>("status"),
            Nights = at.List("nights", Night, WeekLimits.Nights),
            LeftOut = at.OptionalList("leftOut", display => display.Id(), WeekLimits.Displays),
            Goals = at.OptionalList("goals", Goal, WeekLimits.Goals),
            Breaches = at.OptionalList("breaches", Breach, MaxWork),
            Tight = at.OptionalList("tight", Breach, MaxWork),
            Conflict = at.OptionalList("conflict", Breach, MaxWork),
            ConflictSmallest = !at.Has("conflictSmallest") || at.Flag("conflictSmallest"),
            Repairs = at.OptionalList("repairs", RepairReader.Repair, 1000),
            Unplaced = at.OptionalList("unplaced", Breach, WeekLimits.TotalStints),
            Notes = at.OptionalList("notes", note => note.Text(WeekLimits.SentenceLength), MaxNotes),
        };
        if (plan is { Status: PlanStatus.Infeasible or PlanStatus.Unknown, Nights.Count: > 0 })
            at.AddFault("nights", "A plan that is infeasible or unknown has no nights; correct the status or remove the nights.");
        return plan;
    });

    /// <summary>Reads the value and bound of a goal.</summary>
    public static GoalValue Goal(JsonCursor cursor) => cursor.Object(at => new GoalValue(
        GoalName(at.Required("goal")), at.Long("value", 0, long.MaxValue),
        at.Required("bound") is { IsNull: false } bound ? bound.Long(0, long.MaxValue) : null));

    private static PlannedNight Night(JsonCursor cursor) => cursor.Object(at => new PlannedNight
    {
        Night = at.Id("night"),
        Keyholder = at.OptionalId("keyholder"),
        Shifts = at.OptionalList("shifts", Shift, WeekLimits.People),
        Work = at.OptionalList("work", Work, MaxWork),
    });

    private static PlannedShift Shift(JsonCursor cursor) => cursor.Object(at =>
    {
        var (person, (from, to)) = (at.Id("person"), Span(at, "The shift"));
        return new PlannedShift(person, from, to, at.OptionalObject("break", of =>
        {
            var (begins, ends) = Span(of, "The break");
            return new PlannedBreak(begins, ends);
        }));
    });

    private static PlannedWork Work(JsonCursor cursor) => cursor.Object(at =>
    {
        var work = at.Has("cleanDown")
            ? new PlannedWork { CleanDown = at.Id("cleanDown"), From = default, To = default }
            : new PlannedWork
            {
                Task = at.Id("task"), Stint = at.Int("stint", 1, WeekLimits.Stints),
                Mode = at.Int("mode", 0, WeekLimits.Modes - 1),
                From = default, To = default,
            };
        var (from, to) = Span(at, "The work");
        return work with
        {
            From = from, To = to,
            People = at.OptionalList("people",
                person => person.Object(of => new PlannedPerson(of.Id("person"), of.Word("skill"))), WeekLimits.People),
        };
    });

    private static (OffsetDateTime From, OffsetDateTime To) Span(JsonFields at, string what)
    {
        var (from, to) = (WholeMinutes(at, "from"), WholeMinutes(at, "to"));
        if (from != default && to != default && to.ToInstant() <= from.ToInstant())
            at.AddFault("to", $"{what} ends no later than it begins; check both times.");
        return (from, to);
    }

    private static OffsetDateTime WholeMinutes(JsonFields at, string name)
    {
        var time = at.Time(name);
        if (time.Second != 0 || time.NanosecondOfSecond != 0)
            at.AddFault(name, "Times of a plan are whole minutes; give the seconds as 00.");
        return time;
    }

    private static Breach Breach(JsonCursor cursor) => cursor.Object(at => new Breach(
        Rule(at.Required("rule")),
        at.Object("about", of => new RuleSubject
        {
            Night = of.OptionalId("night"), Person = of.OptionalId("person"), Task = of.OptionalId("task"),
            Stint = of.OptionalInt("stint", 1, WeekLimits.Stints), Zone = of.OptionalId("zone"), Kit = of.OptionalId("kit"),
            Display = of.OptionalId("display"), Skill = of.OptionalWord("skill"), Equipment = of.OptionalId("equipment"),
        }),
        at.Text("sentence", WeekLimits.SentenceLength)));

    /// <summary>Reads the id of a goal. An unknown id is a fault, and the result is a placeholder.</summary>
    private static GoalId GoalName(JsonCursor name)
    {
        var text = name.Text();
        if (GoalIds.Parse(text) is { } goal) return goal;
        if (text.Length > 0)
            name.AddFault($"{QuotedInput.Of(text)} is not a goal; "
                + $"give one of {string.Join(", ", GoalIds.All.Select(id => id.Text()))}.");
        return default;
    }

    /// <summary>Reads the id of a rule. An unknown id is a fault, and the result is a placeholder.</summary>
    private static RuleId Rule(JsonCursor name)
    {
        var text = name.Text();
        if (RuleIds.Parse(text) is { } rule) return rule;
        if (text.Length > 0)
            name.AddFault($"{QuotedInput.Of(text)} is not a rule; "
                + $"give one of {string.Join(", ", RuleIds.All.Select(id => id.Text()))}.");
        return default;
    }
}
