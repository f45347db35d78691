using SetWeek.Model.Files.Validation;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Shapes;

/// <summary>
/// Reads the fields of a week and checks the kind and range of each. Faults are added to the cursor.
/// <see cref="WeekFaults"/> checks the fields against one another.
/// </summary>
public static class WeekReader
{
    /// <summary>Reads a week.</summary>
    public static Week Week(JsonCursor cursor) => cursor.Object(at => new Week
    {
        Id = at.Id("week"),
        Currency = Currency(at.Required("currency")),
        GridMinutes = at.Int("gridMinutes", 1, 1440, otherwise: 5),
        Launch = at.LocalTime("launch"),
        Store = Store(at.Required("store")),
        Nights = at.List("nights", Night, WeekLimits.Nights, least: 1),
        Crew = at.List("crew", CrewMember, WeekLimits.People),
        Kits = at.OptionalList("kits", Kit, WeekLimits.Kits),
        Displays = at.List("displays", Display, WeekLimits.Displays),
        Tasks = at.List("tasks", TaskReader.Task, WeekLimits.Tasks),
        Rules = RuleReader.Rules(at.Required("rules")),
        Hold = at.OptionalObject("hold", Hold) ?? new HoldTarget(),
        Pins = at.OptionalList("pins", Pin, WeekLimits.Pins),
        Goals = at.Optional("goals") is { } goals ? Goals(goals, replan: false) : Model.Weeks.Week.DefaultGoals,
        ReplanGoals = at.Optional("replanGoals") is { } replan
            ? Goals(replan, replan: true) : Model.Weeks.Week.DefaultReplanGoals,
    });

    /// <summary>Reads a store with its zones and equipment.</summary>
    public static Store Store(JsonCursor cursor) => cursor.Object(at => new Store
    {
        Id = at.Id("id"),
        TimeZone = at.Text("timeZone"),
        Zones = at.OptionalList("zones", Zone, WeekLimits.Zones),
        Equipment = at.OptionalList("equipment", piece => piece.Object(of => new Equipment(
            of.Id("id"), of.Int("count", 0, WeekLimits.Pieces))), WeekLimits.Equipment),
    });

    /// <summary>Reads a zone.</summary>
    public static Zone Zone(JsonCursor cursor) => cursor.Object(at => Zone(at.Id("id"), at));

    /// <summary>Reads the fields of a zone whose id is known.</summary>
    public static Zone Zone(string id, JsonFields at) => new(
        id, at.Text("name"), at.OptionalInt("maxPeople", 1, 1000),
        at.OptionalObject("cleanDown", down => new ZoneCleanDown(
            down.Int("minutes", 1, WeekLimits.Minutes),
            down.List("roles", TaskReader.SkillRequirement, WeekLimits.SkillRequirements))),
        at.Int("tradePerDay", 0, WeekLimits.Trade, otherwise: 0));

    /// <summary>Reads a night with its bans.</summary>
    public static Night Night(JsonCursor cursor) => cursor.Object(at => Night(at.Id("id"), at));

    /// <summary>Reads the fields of a night whose id is known.</summary>
    public static Night Night(string id, JsonFields at) => new(id, at.LocalTime("opens"), at.LocalTime("closes"))
    {
        Bans = at.OptionalList("bans", ban => ban.Object(of => new Ban(
            of.Word("trait"), of.LocalTime("from"), of.LocalTime("to"))), WeekLimits.Bans),
    };

    /// <summary>Reads a member of the crew.</summary>
    public static CrewMember CrewMember(JsonCursor cursor) => cursor.Object(at => new CrewMember
    {
        Id = at.Id("id"),
        Name = at.Text("name"),
        Skills = at.Required("skills").Map(level => level.Int(1, 3), WeekLimits.Skills),
        Keyholder = at.Flag("keyholder"),
        Under18 = at.Flag("under18"),
        RatePerHour = at.Int("ratePerHour", 0, WeekLimits.Rate),
        Available = at.List("available", Availability, WeekLimits.Available),
        Commitments = at.OptionalList("commitments", Commitment, WeekLimits.Commitments),
        MaxMinutesPerNight = at.OptionalInt("maxMinutesPerNight", 0, WeekLimits.Minutes),
        MaxNights = at.OptionalInt("maxNights", 0, WeekLimits.Nights),
        MinutesAlready = at.Int("minutesAlready", 0, WeekLimits.Minutes, otherwise: 0),
    });

    /// <summary>Reads one entry of "available".</summary>
    public static Availability Availability(JsonCursor cursor) => cursor.Object(at => new Availability(
        at.Id("night"), at.OptionalLocalTime("from"), at.OptionalLocalTime("to")));

    /// <summary>Reads one entry of "commitments".</summary>
    public static Commitment Commitment(JsonCursor cursor) =>
        cursor.Object(at => new Commitment(at.LocalTime("from"), at.LocalTime("to")));

    /// <summary>Reads a kit with its lines.</summary>
    public static Kit Kit(JsonCursor cursor) =>
        cursor.Object(at => new Kit(at.Id("id"), at.Text("name"), at.NullableLocalTime("eta"))
    {
        Lines = at.OptionalList("lines", KitLine, WeekLimits.KitLines),
    });

    /// <summary>Reads a line of a kit.</summary>
    public static KitLine KitLine(JsonCursor cursor) =>
        cursor.Object(at => new KitLine(at.Word("item"), at.Int("expected", 0, WeekLimits.PieceCount))
    {
        Received = at.OptionalInt("received", 0, WeekLimits.PieceCount),
        Damaged = at.OptionalInt("damaged", 0, WeekLimits.PieceCount),
        Settled = at.Flag("settled"),
    });

    /// <summary>Reads a display. The value of a must has no effect, so it becomes 0.</summary>
    public static Display Display(JsonCursor cursor) => cursor.Object(at => Display(at.Id("id"), at));

    /// <summary>Reads the fields of a display whose id is known.</summary>
    public static Display Display(string id, JsonFields at)
    {
        var (name, commitment) = (at.Text("name"), at.Choice<DisplayCommitment>("commitment"));
        var value = commitment == DisplayCommitment.Want ? at.Int("value", 1, 100) : at.Int("value", 0, 100, otherwise: 0);
        return new Display(id, name, commitment)
        {
            Value = commitment == DisplayCommitment.Want ? value : 0,
            Alternate = at.OptionalObject("alternate", of => new Alternate(of.Id("display"), of.Int("value", 0, 100))),
        };
    }

    /// <summary>Reads what the goal "hold" asks for.</summary>
    public static HoldTarget Hold(JsonFields at) => new()
    {
        Chance = at.Int("chance", 0, 100, otherwise: HoldTarget.DefaultChance),
        GraceMinutes = at.Int("graceMinutes", 0, WeekLimits.GraceMinutes, otherwise: HoldTarget.DefaultGraceMinutes),
        Scenarios = at.Int("scenarios", 1, WeekLimits.Scenarios, otherwise: HoldTarget.DefaultScenarios),
        Seed = at.Int("seed", 0, int.MaxValue, otherwise: 0),
    };

    /// <summary>Reads a pin: of a task, where it names one, otherwise of a person.</summary>
    public static Pin Pin(JsonCursor cursor) => cursor.Object(Pin);

    /// <summary>Reads the fields of a pin.</summary>
    public static Pin Pin(JsonFields at) => at.OptionalId("task") is { } task
        ? new StintPin(task)
        {
            Stint = at.OptionalInt("stint", 1, WeekLimits.Stints),
            Night = at.OptionalId("night"),
            From = at.OptionalLocalTime("from"),
            People = at.OptionalList("people", person => person.Id(), WeekLimits.People),
        }
        : new ShiftPin(at.Id("person"), at.Id("night"))
        {
            Off = at.Flag("off"),
            From = at.OptionalLocalTime("from"),
            To = at.OptionalLocalTime("to"),
        };

    /// <summary>
    /// Reads the code of a currency: three capital letters, as in ISO 4217. The list of codes is not checked.
    /// </summary>
    public static string Currency(JsonCursor cursor)
    {
        var code = cursor.Text();
        if (code.Length > 0 && (code.Length != 3 || !code.All(char.IsAsciiLetterUpper)))
            cursor.AddFault($"{QuotedInput.Of(code)} is not a currency code; give the three letters of ISO 4217, such as GBP.");
        return code;
    }

    /// <summary>Reads a list of goals, each as "cost" or { "goal": "cost", "tolerancePercent": 5 }.</summary>
    public static IReadOnlyList<GoalChoice> Goals(JsonCursor cursor, bool replan)
    {
        var seen = new HashSet<GoalId>();
        return cursor.List(item => item.IsObject
            ? item.Object(
                of => new GoalChoice(Goal(of.Required("goal")), of.Int("tolerancePercent", 0, WeekLimits.Percent, otherwise: 0)))
            : new GoalChoice(Goal(item)), WeekLimits.Goals, least: 1);

        // An unknown goal is a fault, and the result is a placeholder.
        GoalId Goal(JsonCursor name)
        {
            var text = name.Text();
            if (text.Length == 0) return default;
            if (GoalIds.Parse(text) is not { } goal || (!replan && goal.IsOfReplansOnly()))
            {
                name.AddFault($"{QuotedInput.Of(text)} is not a goal {(replan ? "of a re-plan" : "of a first plan")}; "
                    + "give one of "
                    + $"{string.Join(", ", GoalIds.All.Where(id => replan || !id.IsOfReplansOnly()).Select(id => id.Text()))}.");
                return default;
            }
            if (!seen.Add(goal)) name.AddFault($"The goal {text} is asked for twice; keep the one where it matters most.");
            return goal;
        }
    }
}
