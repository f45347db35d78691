using NodaTime;
using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Conflicts;

namespace SetWeek.Planning.Explaining.Repairs;

/// <summary>Proposes changes that relax a member of a conflict; no other change can resolve it.</summary>
internal sealed class RepairCandidates(Week week, Replan? replan)
{
    private const int MaxExtraPlaces = 20, MaxExtraEquipment = 10;

    /// <summary>The most changes that are proposed together: more is another week and no repair.</summary>
    private const int MaxTogether = 14;

    /// <summary>The longest extension of a night in minutes: the store has to stay shut for its customers for as long.</summary>
    private const int MaxWindowExtension = 180;

    /// <summary>Rules on single people; one more person may resolve a conflict with them.</summary>
    private static readonly RuleId[] PersonRules =
    [
        RuleId.Skill, RuleId.Availability, RuleId.Rest, RuleId.Break, RuleId.Briefing, RuleId.ShiftLength, RuleId.YoungWorker,
        RuleId.TwoPerson, RuleId.Company, RuleId.Window, RuleId.Whole,
    ];

    /// <summary>First the changes that a telephone call can arrange, then an extra person, then displays left out.</summary>
    public IEnumerable<ParametricChange> For(Conflict conflict)
    {
        var members = InstancesOf(conflict);
        return
        [
            .. members.SelectMany(For),
            .. ExtraPeople(members),
            .. members.Where(member => member is { Rule: RuleId.Whole, About.Display: not null })
                .Select(member => week.Displays.First(display => display.Id == member.About.Display))
                .Where(display => EssentialDisplays.MayBeLeftOut(week, replan, display))
                .Select(display => ParametricChange.Single(new LeaveOut(display.Id))),
        ];
    }

    /// <summary>
    /// Changes of one kind that are made together, where the week lacks the same thing several times: a keyholder or a skill in
    /// several nights, the pieces of several kit lines, several kits. Each list is one proposal.
    /// </summary>
    public IEnumerable<IReadOnlyList<ParametricChange>> Together(Conflict conflict)
    {
        var members = InstancesOf(conflict);
        var people = ExtraPeople(members).GroupBy(change => change.Largest switch
        {
            ExtraPerson extra => (extra.Skill, extra.Keyholder),
            _ => ("", true),
        }).Where(nights => week.Crew.Count + nights.Count() <= WeekLimits.People).Select(nights => nights.ToArray());
        var lines = members.All(member => member.ShortItem is null) ? []
            : KitShortage.AllOf(week).SelectMany(shortage => Line(week.Kits.First(kit => kit.Id == shortage.Kit), shortage.Item))
                .GroupBy(change => change.Largest.Kind).Select(alike => alike.ToArray());
        var kits = members.All(member => member.Rule != RuleId.Kit || member.ShortItem is not null) ? []
            : week.Kits.Where(kit => !DisplayExclusion.IsUndeliveredKit(kit)
                && week.Tasks.Any(task => task.Needs.Any(need => need.Kit == kit.Id))).SelectMany(Kit).ToArray();
        return people.Concat(lines).Append(kits).Where(alike => alike.Length is > 1 and <= MaxTogether);
    }

    private static RelaxableRule[] InstancesOf(Conflict conflict) =>
        [.. conflict.Members.SelectMany(member => member.Parts.Count == 0 ? [member] : member.Parts)];

    /// <summary>
    /// One more person in a night, for what the conflict says that the crew lacks: keys, or a skill from the lowest level up. If
    /// it names no skill, those of the people that it names are tried, and otherwise all that the work requires.
    /// </summary>
    private IEnumerable<ParametricChange> ExtraPeople(RelaxableRule[] members)
    {
        if (week.Crew.Count >= WeekLimits.People) return [];
        var lacksKeyholder = members.Any(member => member.Rule is RuleId.Keyholder or RuleId.OpenClose);
        string[] lacking = [.. members.Where(member => member.Rule == RuleId.Skill).Select(member => member.About.Skill!)];
        string[] concerned = [.. week.Crew.Where(person => members.Any(member => member.About.Person == person.Id))
            .SelectMany(person => person.Skills.Keys).Intersect(Skills()).Distinct()];
        var skills = lacking.Length > 0 ? lacking : concerned.Length > 0 ? concerned
            : members.Any(member => PersonRules.Contains(member.Rule)) ? Skills() : [];
        return
        [
            .. lacksKeyholder ? NightsNotOver().Select(night => ParametricChange.Single(new ExtraKeyholder(night.Id))) : [],
            // A keyholder who is away may leave work undone as well.
            .. from night in NightsNotOver()
               from skill in skills
               select new ParametricChange(
                   LevelFor(skill), step => new ExtraPerson(night.Id, skill, step + 1, lacksKeyholder)),
        ];
    }

    private IEnumerable<ParametricChange> For(RelaxableRule member) => member.Rule switch
    {
        RuleId.Kit when DisplayExclusion.IsUndeliveredKit(week.Kits.First(kit => kit.Id == member.About.Kit)) => [],
        RuleId.Kit when member.ShortItem is { } item => Line(week.Kits.First(kit => kit.Id == member.About.Kit), item),
        RuleId.Kit => Kit(week.Kits.First(kit => kit.Id == member.About.Kit)),
        RuleId.Due => Due(member.About.Task!, week.Nights.ToList().FindIndex(night => night.Id == member.About.Night)),
        RuleId.Window => Window(week.Nights.ToList().FindIndex(night => night.Id == member.About.Night)),
        RuleId.Launch => Launch(),
        RuleId.ZoneRoom => ZoneCapacity(week.Store.Zones.First(zone => zone.Id == member.About.Zone)),
        RuleId.Equipment => [new ParametricChange(MaxExtraEquipment, step =>
            new EquipmentCount(member.About.Equipment!,
                week.Store.Equipment.First(piece => piece.Id == member.About.Equipment).Count + step + 1))],
        // For these an extra person or a display left out may help; no change of their own is proposed.
        RuleId.Grid or RuleId.Whole or RuleId.Ban or RuleId.After or RuleId.Drying or RuleId.SameNight or RuleId.Skill
            or RuleId.OnePlace or RuleId.ZoneClosed or RuleId.CleanDown or RuleId.Last or RuleId.Availability or RuleId.OnShift
            or RuleId.ShiftLength or RuleId.Break or RuleId.Briefing or RuleId.Company or RuleId.Pin or RuleId.Rest
            or RuleId.YoungWorker or RuleId.Keyholder or RuleId.OpenClose or RuleId.TwoPerson or RuleId.Frozen => [],
    };

    /// <summary>Arrivals of the whole kit, earlier than expected. An unknown time becomes known.</summary>
    private IEnumerable<ParametricChange> Kit(Kit kit)
    {
        LocalDateTime[] moments = [.. Arrivals().Where(moment => kit.Eta is not { } eta || moment < eta)];
        if (moments.Length > 0) yield return new ParametricChange(moments.Length, step => new KitEtaMoved(kit.Id, moments[step]));
    }

    /// <summary>The missing pieces of a line arrive, or somebody decides to go without them.</summary>
    private IEnumerable<ParametricChange> Line(Kit kit, string item)
    {
        var moments = Arrivals();
        if (moments.Length > 0 && week.Kits.Count < WeekLimits.Kits
            && KitShortage.Of(week, kit.Id, item).HeldUp.All(task => task.Needs.Count < WeekLimits.KitRequirements))
            yield return new ParametricChange(moments.Length, step => new MissingPiecesDelivered(kit.Id, item, moments[step]));
        yield return ParametricChange.Single(new MissingPiecesSettled(kit.Id, item));
    }

    /// <summary>
    /// Times of a delivery, the latest first: the opening of each night, and each time slot in it. Between nights no work is
    /// done, so those times need no steps.
    /// </summary>
    private LocalDateTime[] Arrivals() => [.. week.Nights
        .SelectMany(night => Enumerable.Range(0, MinutesBetween(night.Opens, night.Closes) / week.GridMinutes)
            .Select(step => night.Opens.PlusMinutes((long)step * week.GridMinutes)))
        .Where(moment => replan is null || moment >= replan.Now)
        .OrderDescending()];

    private IEnumerable<ParametricChange> Due(string task, int night)
    {
        if (night + 1 < week.Nights.Count)
            yield return new ParametricChange(
                week.Nights.Count - night - 1, step => new DueMoved(task, week.Nights[night + step + 1].Id));
    }

    private IEnumerable<ParametricChange> Window(int index)
    {
        var (night, step) = (week.Nights[index], WindowExtension.Step(week));
        var later = Math.Min(MaxWindowExtension, MinutesBetween(night.Closes, WindowExtension.LatestClosing(week, index))) / step;
        var earlier = Math.Min(MaxWindowExtension,
            MinutesBetween(WindowExtension.EarliestOpening(week, index), night.Opens)) / step;
        if (later > 0 && (replan is null || replan.Now < night.Closes))
            yield return new ParametricChange(later, index =>
                new NightWindowMoved(night.Id, Closes: night.Closes.PlusMinutes((index + 1L) * step)));
        if (earlier > 0 && (replan is null || replan.Now < WindowExtension.EarliestOpening(week, index)))
            yield return new ParametricChange(earlier, index =>
                new NightWindowMoved(night.Id, Opens: night.Opens.PlusMinutes(-(index + 1L) * step)));
    }

    /// <summary>Each step moves the launch behind one more night.</summary>
    private IEnumerable<ParametricChange> Launch()
    {
        LocalDateTime[] later = [.. week.Nights.Select(night => night.Closes.PlusMinutes(week.Rules.LaunchBufferMinutes ?? 0))
            .Where(time => time > week.Launch)];
        if (later.Length > 0) yield return new ParametricChange(later.Length, step => new LaunchTimeMoved(later[step]));
    }

    private static IEnumerable<ParametricChange> ZoneCapacity(Zone zone) =>
        [new ParametricChange(MaxExtraPlaces, step => new ZoneCapacity(zone.Id, zone.MaxPeople!.Value + step + 1))];

    private IEnumerable<Night> NightsNotOver() => week.Nights.Where(night => replan is null || replan.Now < night.Closes);

    private IEnumerable<SkillRequirement> Requirements() => week.Tasks
        .SelectMany(task => task.Modes).SelectMany(mode => mode.Roles)
        .Concat(week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []));

    private IEnumerable<string> Skills() => Requirements().Select(role => role.Skill).Distinct().Order(StringComparer.Ordinal);

    /// <summary>The highest level that any task or clean-down requires of the skill.</summary>
    private int LevelFor(string skill) =>
        Requirements().Where(role => role.Skill == skill).Select(role => role.Level).DefaultIfEmpty(1).Max();

    private static int MinutesBetween(LocalDateTime from, LocalDateTime to) =>
        (int)Period.Between(from, to, PeriodUnits.Minutes).Minutes;
}
