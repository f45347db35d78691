using NodaTime;
using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Conflicts;

namespace SetWeek.Planning.Explaining.Repairs;

/// <summary>What could be done about a conflict: changes that touch one of its members, since no other can resolve it.</summary>
internal sealed class RepairCandidates(Week week, Replan? replan)
{
    private const int MaxExtraPlaces = 20, MaxExtraEquipment = 10, MaxCrew = 60;

    /// <summary>Rules that bind people one by one: somebody more may do what they cannot.</summary>
    private static readonly RuleId[] PersonRules =
        [
            RuleId.Skill, RuleId.Availability, RuleId.Rest, RuleId.Break, RuleId.ShiftLength, RuleId.YoungWorker, RuleId.TwoPerson, RuleId.Keyholder, RuleId.OpenClose,
            RuleId.Window, RuleId.Whole,
        ];

    /// <summary>Those that a call settles first; one more person, then a display less at the end.</summary>
    public IEnumerable<ParametricChange> For(Conflict conflict)
    {
        var members = conflict.Members.SelectMany(member => member.Parts.Count == 0 ? [member] : member.Parts).ToArray();
        string[] skills = [.. members.Where(member => member.Rule == RuleId.Skill).Select(member => member.About.Skill!)];
        var keyholder = members.Any(member => member.Rule is RuleId.Keyholder or RuleId.OpenClose);
        return
        [
            .. members.SelectMany(For),
            .. members.Any(member => PersonRules.Contains(member.Rule)) && week.Crew.Count < MaxCrew
                ? NightsNotOver().SelectMany(night => (skills.Length > 0 ? skills : Skills()).Select(skill =>
                    ParametricChange.Single(new ExtraPerson(night.Id, skill, LevelFor(skill), keyholder)))) : [],
            .. members.Where(member => member is { Rule: RuleId.Whole, About.Display: not null })
                .Select(member => ParametricChange.Single(new LeaveOut(member.About.Display!))),
        ];
    }

    private IEnumerable<ParametricChange> For(RelaxableRule member) => member.Rule switch
    {
        RuleId.Kit when DisplayExclusion.IsUndeliveredKit(week.Kits.First(kit => kit.Id == member.About.Kit)) => [],
        RuleId.Kit => Kit(week.Kits.First(kit => kit.Id == member.About.Kit)),
        RuleId.Due => Due(member.About.Task!, week.Nights.ToList().FindIndex(night => night.Id == member.About.Night)),
        RuleId.Window => Window(week.Nights.ToList().FindIndex(night => night.Id == member.About.Night)),
        RuleId.Launch => Launch(),
        RuleId.ZoneRoom => ZoneCapacity(week.Store.Zones.First(zone => zone.Id == member.About.Zone)),
        RuleId.Equipment => [new ParametricChange(MaxExtraEquipment, step =>
            new EquipmentCount(member.About.Equipment!,
            week.Store.Equipment.First(piece => piece.Id == member.About.Equipment).Count + step + 1))],
        // One more person, or a display less, is tried for these; otherwise no single change of the week is offered.
        RuleId.Grid or RuleId.Whole or RuleId.Ban or RuleId.After or RuleId.Drying or RuleId.SameNight or RuleId.Skill
            or RuleId.OnePlace or RuleId.ZoneClosed or RuleId.CleanDown or RuleId.Last or RuleId.Availability or RuleId.OnShift
            or RuleId.ShiftLength or RuleId.Break or RuleId.Rest or RuleId.YoungWorker or RuleId.Keyholder or RuleId.OpenClose
            or RuleId.TwoPerson or RuleId.Frozen => [],
    };

    /// <summary>
    /// Moments of the nights before its eta, the latest first: in between nothing is worked on, so that nothing else matters.
    /// </summary>
    private IEnumerable<ParametricChange> Kit(Kit kit)
    {
        LocalDateTime[] moments = [.. week.Nights
            .SelectMany(night => Enumerable.Range(0, MinutesBetween(night.Opens, night.Closes) / week.GridMinutes)
                .Select(step => night.Opens.PlusMinutes((long)step * week.GridMinutes)))
            .Where(moment => (kit.Eta is not { } eta || moment < eta) && (replan is null || moment >= replan.Now))
            .OrderDescending()];
        if (moments.Length > 0) yield return new ParametricChange(moments.Length, step => new KitEtaMoved(kit.Id, moments[step]));
    }

    private IEnumerable<ParametricChange> Due(string task, int night)
    {
        if (night + 1 < week.Nights.Count)
            yield return new ParametricChange(week.Nights.Count - night - 1, step => new DueMoved(task, week.Nights[night + step + 1].Id));
    }

    private IEnumerable<ParametricChange> Window(int index)
    {
        var (night, step) = (week.Nights[index], WindowExtension.Step(week));
        var later = MinutesBetween(night.Closes, WindowExtension.LatestClosing(week, index)) / step;
        var earlier = MinutesBetween(WindowExtension.EarliestOpening(week, index), night.Opens) / step;
        if (later > 0 && (replan is null || replan.Now < night.Closes))
            yield return new ParametricChange(later, at => new NightWindowMoved(night.Id, Closes: night.Closes.PlusMinutes((at + 1L) * step)));
        if (earlier > 0 && (replan is null || replan.Now < WindowExtension.EarliestOpening(week, index)))
            yield return new ParametricChange(earlier, at => new NightWindowMoved(night.Id, Opens: night.Opens.PlusMinutes(-(at + 1L) * step)));
    }

    /// <summary>Until after another night, and another.</summary>
    private IEnumerable<ParametricChange> Launch()
    {
        LocalDateTime[] later = [.. week.Nights.Select(night => night.Closes.PlusMinutes(week.Rules.LaunchBufferMinutes ?? 0))
            .Where(time => time > week.Launch)];
        if (later.Length > 0) yield return new ParametricChange(later.Length, step => new LaunchMoved(later[step]));
    }

    private static IEnumerable<ParametricChange> ZoneCapacity(Zone zone) =>
        [new ParametricChange(MaxExtraPlaces, step => new ZoneCapacity(zone.Id, zone.MaxPeople!.Value + step + 1))];

    private IEnumerable<Night> NightsNotOver() => week.Nights.Where(night => replan is null || replan.Now < night.Closes);

    private IEnumerable<SkillRequirement> Requirements() => week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles)
        .Concat(week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []));

    private IEnumerable<string> Skills() => Requirements().Select(role => role.Skill).Distinct().Order(StringComparer.Ordinal);

    /// <summary>Somebody who can stand in every role that asks for the skill.</summary>
    private int LevelFor(string skill) =>
        Requirements().Where(role => role.Skill == skill).Select(role => role.Level).DefaultIfEmpty(1).Max();

    private static int MinutesBetween(LocalDateTime from, LocalDateTime to) =>
        (int)Period.Between(from, to, PeriodUnits.Minutes).Minutes;
}
