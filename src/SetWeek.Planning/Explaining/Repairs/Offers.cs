using NodaTime;
using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Conflicts;

namespace SetWeek.Planning.Explaining.Repairs;

/// <summary>What could be done about a conflict: changes that touch one of its members, since no other can resolve it.</summary>
internal sealed class Offers(Week week, Replan? replan)
{
    private const int MostRoom = 20, MostPieces = 10, MostCrew = 60;

    /// <summary>Rules that bind people one by one: somebody more may do what they cannot.</summary>
    private static readonly string[] OfPeople =
        [
            "skill", "availability", "rest", "break", "shift-length", "young-worker", "two-person", "keyholder", "open-close",
            "window", "whole",
        ];

    /// <summary>Those that a call settles first; one more person, then a display less at the end.</summary>
    public IEnumerable<Offer> For(Conflict conflict)
    {
        var members = conflict.Members.SelectMany(member => member.Parts.Count == 0 ? [member] : member.Parts).ToArray();
        string[] skills = [.. members.Where(member => member.Rule == "skill").Select(member => member.About.Skill!)];
        var keyholder = members.Any(member => member.Rule is "keyholder" or "open-close");
        return
        [
            .. members.SelectMany(For),
            .. members.Any(member => OfPeople.Contains(member.Rule)) && week.Crew.Count < MostCrew
                ? Open().SelectMany(night => (skills.Length > 0 ? skills : Skills()).Select(skill =>
                    Offer.One(new PersonNight(night.Id, skill, Level(skill), keyholder)))) : [],
            .. members.Where(member => member is { Rule: "whole", About.Display: not null })
                .Select(member => Offer.One(new LeaveOut(member.About.Display!))),
        ];
    }

    private IEnumerable<Offer> For(Relief member) => member.Rule switch
    {
        "kit" when HeldBack.IsFor(week.Kits.First(kit => kit.Id == member.About.Kit)) => [],
        "kit" => Kit(week.Kits.First(kit => kit.Id == member.About.Kit)),
        "due" => Due(member.About.Task!, week.Nights.ToList().FindIndex(night => night.Id == member.About.Night)),
        "window" => Window(week.Nights.ToList().FindIndex(night => night.Id == member.About.Night)),
        "launch" => Launch(),
        "zone-room" => Room(week.Store.Zones.First(zone => zone.Id == member.About.Zone)),
        "equipment" => [new Offer(MostPieces, step =>
            new EquipmentCount(member.About.Equipment!,
            week.Store.Equipment.First(piece => piece.Id == member.About.Equipment).Count + step + 1))],
        _ => [],
    };

    /// <summary>
    /// Moments of the nights before its eta, the latest first: in between nothing is worked on, so that nothing else matters.
    /// </summary>
    private IEnumerable<Offer> Kit(Kit kit)
    {
        LocalDateTime[] moments = [.. week.Nights
            .SelectMany(night => Enumerable.Range(0, Minutes(night.Opens, night.Closes) / week.GridMinutes)
                .Select(step => night.Opens.PlusMinutes((long)step * week.GridMinutes)))
            .Where(moment => (kit.Eta is not { } eta || moment < eta) && (replan is null || moment >= replan.Now))
            .OrderDescending()];
        if (moments.Length > 0) yield return new Offer(moments.Length, step => new KitIn(kit.Id, moments[step]));
    }

    private IEnumerable<Offer> Due(string task, int night)
    {
        if (night + 1 < week.Nights.Count)
            yield return new Offer(week.Nights.Count - night - 1, step => new DueMoved(task, week.Nights[night + step + 1].Id));
    }

    private IEnumerable<Offer> Window(int index)
    {
        var (night, step) = (week.Nights[index], WindowRoom.Step(week));
        var later = Minutes(night.Closes, WindowRoom.Latest(week, index)) / step;
        var earlier = Minutes(WindowRoom.Earliest(week, index), night.Opens) / step;
        if (later > 0 && (replan is null || replan.Now < night.Closes))
            yield return new Offer(later, at => new LongerWindow(night.Id, Closes: night.Closes.PlusMinutes((at + 1L) * step)));
        if (earlier > 0 && (replan is null || replan.Now < WindowRoom.Earliest(week, index)))
            yield return new Offer(earlier, at => new LongerWindow(night.Id, Opens: night.Opens.PlusMinutes(-(at + 1L) * step)));
    }

    /// <summary>Until after another night, and another.</summary>
    private IEnumerable<Offer> Launch()
    {
        LocalDateTime[] later = [.. week.Nights.Select(night => night.Closes.PlusMinutes(week.Rules.LaunchBufferMinutes ?? 0))
            .Where(time => time > week.Launch)];
        if (later.Length > 0) yield return new Offer(later.Length, step => new LaunchMoved(later[step]));
    }

    private static IEnumerable<Offer> Room(Zone zone) =>
        [new Offer(MostRoom, step => new MoreRoom(zone.Id, zone.MaxPeople!.Value + step + 1))];

    private IEnumerable<Night> Open() => week.Nights.Where(night => replan is null || replan.Now < night.Closes);

    private IEnumerable<Role> Roles() => week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles)
        .Concat(week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []));

    private IEnumerable<string> Skills() => Roles().Select(role => role.Skill).Distinct().Order(StringComparer.Ordinal);

    /// <summary>Somebody who can stand in every role that asks for the skill.</summary>
    private int Level(string skill) =>
        Roles().Where(role => role.Skill == skill).Select(role => role.Level).DefaultIfEmpty(1).Max();

    private static int Minutes(LocalDateTime from, LocalDateTime to) =>
        (int)Period.Between(from, to, PeriodUnits.Minutes).Minutes;
}
