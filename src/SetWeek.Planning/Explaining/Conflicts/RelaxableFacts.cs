using NodaTime;
using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>Relaxable facts of a week: a lead can change them with a telephone call.</summary>
internal static class RelaxableFacts
{
    private static readonly Period OneYear = Period.FromYears(1);

    /// <summary>The arrival of each kit that work waits for, and each of its lines of which pieces are missing.</summary>
    public static IEnumerable<RelaxableRule> Kits(Week week) =>
    [
        .. from kit in week.Kits
           let waiting = week.Tasks.Where(task => task.Needs.Any(need => need.Kit == kit.Id)).ToArray()
           where waiting.Length > 0
           let what = kit.Eta is { } eta ? $"The kit “{kit.Name}” arrives {WeekPhrases.Time(eta)}"
               : $"It is not known when the kit “{kit.Name}” will arrive"
           select new RelaxableRule(RuleId.Kit, new RuleSubject { Kit = kit.Id },
               DisplayExclusion.IsUndeliveredKit(kit) ? $"{HeldBackDisplays(week, kit)} left out of this week."
                   : $"{what}; {Waiting(week, waiting)} it.",
               ChangeKit(kit.Id, other => other with { Eta = week.Nights[0].Opens.Minus(OneYear) }))
               { Name = $"“{kit.Name}”" },
        .. from shortage in KitShortage.AllOf(week)
           let kit = week.Kits.First(kit => kit.Id == shortage.Kit)
           select new RelaxableRule(RuleId.Kit, new RuleSubject { Kit = kit.Id },
               $"Of the {shortage.Required} “{shortage.Item}” that work needs from the kit “{kit.Name}”, {shortage.Missing} "
                   + $"{(shortage.Missing == 1 ? "is" : "are")} missing or damaged; {Waiting(week, shortage.HeldUp)} them.",
               ChangeKit(kit.Id, other => other with
               {
                   Lines = [.. other.Lines.Select(line => line.Item == shortage.Item ? line with { Settled = true } : line)],
               }))
               { Name = $"“{shortage.Item}” of “{kit.Name}”", ShortItem = shortage.Item },
    ];

    public static IEnumerable<RelaxableRule> Dues(Week week) =>
        from task in week.Tasks
        where task.Due is not null
        let closes = week.Nights.First(night => night.Id == task.Due).Closes
        select new RelaxableRule(RuleId.Due, new RuleSubject { Task = task.Id, Night = task.Due },
            $"{WeekPhrases.Task(week, task)} is due by the end of {WeekPhrases.Night(week, task.Due!)}, "
                + $"{WeekPhrases.Time(closes)}.",
            all => all with { Tasks = [.. all.Tasks.Select(other => other.Id == task.Id ? other with { Due = null } : other)] })
            { Name = WeekPhrases.Task(week, task) };

    public static RelaxableRule Launch(Week week) => new(RuleId.Launch, new RuleSubject(),
        week.Rules.LaunchBufferMinutes is > 0 and var buffer
            ? $"Everything must be ready {RulePhrases.Duration(buffer)} before the launch on {WeekPhrases.Time(week.Launch)}."
            : $"Everything must be ready by the launch on {WeekPhrases.Time(week.Launch)}.",
        all => all with { Launch = week.Launch.Plus(OneYear) });

    public static IEnumerable<RelaxableRule> Bans(Week week) =>
        from night in week.Nights
        from trait in night.Bans.Select(ban => ban.Trait).Distinct()
        let times = night.Bans.Where(ban => ban.Trait == trait)
            .Select(ban => $"from {WeekPhrases.Clock(ban.From)} to {WeekPhrases.Clock(ban.To)}").ToArray()
        select new RelaxableRule(RuleId.Ban, new RuleSubject { Night = night.Id },
            $"In {WeekPhrases.Night(week, night.Id)} “{trait}” work is banned {WeekPhrases.List(times)}.",
            all => all with
            {
                Nights = [.. all.Nights.Select(other => other.Id != night.Id ? other
                    : other with { Bans = [.. other.Bans.Where(ban => ban.Trait != trait)] })],
            }) { Name = $"“{trait}” in {WeekPhrases.Night(week, night.Id)}", BannedTrait = trait };

    public static IEnumerable<RelaxableRule> Equipment(Week week) =>
        week.Store.Equipment.Select(piece => new RelaxableRule(RuleId.Equipment, new RuleSubject { Equipment = piece.Id },
            $"The store has {(piece.Count == 1 ? "1 piece" : $"{piece.Count} pieces")} of equipment of type “{piece.Id}”.",
            all => all with
            {
                Store = all.Store with { Equipment =
                    [.. all.Store.Equipment.Select(other => other.Id == piece.Id ? other with { Count = 10_000 } : other)] },
            }) { Name = $"“{piece.Id}”" });

    public static IEnumerable<RelaxableRule> ZoneCapacities(Week week) =>
        week.Store.Zones.Where(zone => zone.MaxPeople is not null)
            .Select(zone => new RelaxableRule(RuleId.ZoneRoom, new RuleSubject { Zone = zone.Id },
            $"At most {WeekPhrases.People(zone.MaxPeople!.Value)} can work in {zone.Name} at once.",
            all => all with
            {
                Store = all.Store with { Zones =
                    [.. all.Store.Zones.Select(other => other.Id == zone.Id ? other with { MaxPeople = null } : other)] },
            }) { Name = zone.Name });

    public static IEnumerable<RelaxableRule> NightWindows(Week week) =>
        week.Nights.Select((night, index) => new RelaxableRule(RuleId.Window, new RuleSubject { Night = night.Id },
            $"In {WeekPhrases.Night(week, night.Id)} work is possible only from {WeekPhrases.Clock(night.Opens)} to "
                + $"{WeekPhrases.Clock(night.Closes)}.",
            all => all with
            {
                Nights = [.. all.Nights.Select(other => other.Id != night.Id ? other : other with
                {
                    Opens = WindowExtension.EarliestOpening(week, index), Closes = WindowExtension.LatestClosing(week, index),
                })],
            }) { Name = WeekPhrases.Night(week, night.Id) });

    public static IEnumerable<RelaxableRule> Skills(Week week) =>
        from skill in week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles)
            .Concat(week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []))
            .Select(role => role.Skill).Distinct().Order(StringComparer.Ordinal)
        let able = week.Crew.Where(member => member.Skills.GetValueOrDefault(skill) > 0)
            .Select(member => $"{member.Name} (level {member.Skills[skill]})").ToArray()
        where able.Length < week.Crew.Count || week.Crew.Any(member => member.Skills.GetValueOrDefault(skill) < 3)
        select new RelaxableRule(RuleId.Skill, new RuleSubject { Skill = skill },
            able.Length == 0 ? $"Nobody has the skill “{skill}”."
                : $"Only {WeekPhrases.ListFirst(able, 6)} {(able.Length == 1 ? "has" : "have")} the skill “{skill}”.",
            all => all with
            {
                Crew = [.. all.Crew.Select(member => member with
                {
                    Skills = new Dictionary<string, int>(member.Skills, StringComparer.Ordinal) { [skill] = 3 },
                })],
            }) { Name = $"“{skill}”" };

    public static IEnumerable<RelaxableRule> Absences(Week week) =>
        week.Crew.Where(member => member.Commitments.Count > 0 || !IsAvailableAllNights(week, member))
            .Select(member => new RelaxableRule(RuleId.Availability, new RuleSubject { Person = member.Id },
                AvailabilitySentence(week, member),
                all => all with
                {
                    Crew = [.. all.Crew.Select(other => other.Id != member.Id ? other : other with
                    {
                        Available = [.. all.Nights.Select(night => new Availability(night.Id))], Commitments = [],
                    })],
                }) { Name = member.Name });

    public static IEnumerable<RelaxableRule> MandatoryDisplays(Week week) =>
        week.Displays.Where(display => display.Commitment == DisplayCommitment.Must)
            .Select(display => new RelaxableRule(RuleId.Whole, new RuleSubject { Display = display.Id },
            display.Alternate is { } alternate
                ? $"“{display.Name}” or its alternate "
                    + $"“{week.Displays.First(other => other.Id == alternate.Display).Name}” must be built."
                : $"“{display.Name}” must be built.",
            all => all with
            {
                Displays = [.. all.Displays.Select(other => other.Id == display.Id
                    ? other with { Commitment = DisplayCommitment.Want, Value = 100 } : other)],
            }) { Name = $"“{display.Name}”" });

    /// <summary>"“Canopy” and “Banner” are".</summary>
    private static string HeldBackDisplays(Week week, Kit kit)
    {
        string[] names = [.. week.Tasks.Where(task => task.Needs.Any(need => need.Kit == kit.Id)).Select(task => task.Display)
            .Distinct().Select(id => $"“{week.Displays.First(display => display.Id == id).Name}”")];
        return $"{WeekPhrases.List(names)} {(names.Length == 1 ? "is" : "are")}";
    }

    /// <summary>"“Hang” and “Fill” need".</summary>
    private static string Waiting(Week week, IReadOnlyList<WeekTask> tasks) =>
        $"{WeekPhrases.ListFirst([.. tasks.Select(task => WeekPhrases.Task(week, task))])} "
            + $"{(tasks.Count == 1 ? "needs" : "need")}";

    private static Func<Week, Week> ChangeKit(string id, Func<Kit, Kit> change) =>
        week => week with { Kits = [.. week.Kits.Select(kit => kit.Id == id ? change(kit) : kit)] };

    private static bool IsAvailableAllNights(Week week, CrewMember member) =>
        week.Nights.All(night => member.Available.Contains(new(night.Id)));

    private static string AvailabilitySentence(Week week, CrewMember member)
    {
        string[] absentNights = [.. week.Nights.Where(night => member.Available.All(entry => entry.Night != night.Id))
            .Select(night => night.Id)];
        string[] partialNights = [.. member.Available.Where(entry => entry.From is not null || entry.To is not null)
            .Select(entry => entry.Night).Distinct().Except(absentNights)];
        string?[] clauses =
        [
            absentNights.Length == week.Nights.Count ? "cannot come in any night"
                : absentNights.Length > 0 ? $"cannot come in {Names(absentNights)}" : null,
            partialNights.Length > 0 ? $"can come for only part of {Names(partialNights)}" : null,
            member.Commitments.Count switch
            {
                0 => null,
                1 => $"is busy from {WeekPhrases.Time(member.Commitments[0].From)} to "
                    + WeekPhrases.Time(member.Commitments[0].To),
                var count => $"has {count} commitments",
            },
        ];
        return $"{member.Name} {WeekPhrases.List([.. clauses.OfType<string>()])}.";

        string Names(string[] nights) => WeekPhrases.List([.. nights.Select(night => WeekPhrases.Night(week, night))]);
    }

    /// <summary>What the pin fixes, and that it can be lifted.</summary>
    private static string PinSentence(Week week, Pin pin, string name) => pin switch
    {
        ShiftPin { Off: true } off =>
            $"{name} is pinned off in {WeekPhrases.Night(week, off.Night)}; lift this pin to let {name} work.",
        ShiftPin shift => $"{name} is pinned to a shift in {WeekPhrases.Night(week, shift.Night)}"
            + (shift.From is { } from ? $" from {WeekPhrases.Clock(from)}" : "")
            + (shift.To is { } to ? $" until {WeekPhrases.Clock(to)}" : "") + "; lift this pin to plan the shift freely.",
        StintPin stint => $"{name}{(stint.Stint is { } number ? $", part {number}," : "")} is pinned"
            + (stint.From is { } start ? $" to start {WeekPhrases.Time(start)}"
                : stint.Night is { } night ? $" to {WeekPhrases.Night(week, night)}" : "")
            + (stint.People.Count > 0
                ? $" with {WeekPhrases.List([.. stint.People.Select(person => NameOf(week, person))])}" : "")
            + "; lift this pin to plan the work freely.",
        _ => throw new ArgumentOutOfRangeException(nameof(pin), pin, "There are pins of stints and of shifts."),
    };

    private static string NameOf(Week week, string person) => week.Crew.First(member => member.Id == person).Name;

    /// <summary>What somebody has fixed by hand.</summary>
    public static IEnumerable<RelaxableRule> Pins(Week week) =>
        from pin in week.Pins
        let about = pin switch
        {
            StintPin stint => new RuleSubject { Task = stint.Task, Stint = stint.Stint, Night = stint.Night },
            ShiftPin shift => new RuleSubject { Person = shift.Person, Night = shift.Night },
            _ => new RuleSubject(),
        }
        let name = pin is ShiftPin of ? NameOf(week, of.Person) : WeekPhrases.Task(week, ((StintPin)pin).Task)
        select new RelaxableRule(RuleId.Pin, about, PinSentence(week, pin, name),
            all => all with { Pins = [.. all.Pins.Where(other => !ReferenceEquals(other, pin))] }) { Name = name };
}
