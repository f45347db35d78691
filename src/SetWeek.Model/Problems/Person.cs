using NodaTime;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Problems;

/// <summary>
/// A member of the crew with the rule parameters that apply to that person: young-worker numbers have replaced adult ones.
/// </summary>
public sealed record Person
{
    /// <summary>Position in <see cref="Problem.Crew"/>.</summary>
    public required int Index { get; init; }

    /// <summary>Id in the week file.</summary>
    public required string Id { get; init; }

    /// <summary>Name that people read.</summary>
    public required string Name { get; init; }

    /// <summary>By skill index: level from 1 to 3; 0 if the person does not have the skill.</summary>
    public required IReadOnlyList<int> Levels { get; init; }

    /// <summary>True if the person can open and close the store.</summary>
    public required bool Keyholder { get; init; }

    /// <summary>True if the young-worker rules apply.</summary>
    public required bool Under18 { get; init; }

    /// <summary>Pay in minor units per hour.</summary>
    public required int Rate { get; init; }

    /// <summary>
    /// By night: spans in which a shift may lie. They combine availability, the night's window and the latest end of a young
    /// worker; commitments are not subtracted.
    /// </summary>
    public required IReadOnlyList<IReadOnlyList<Span>> ShiftWindows { get; init; }

    /// <summary>
    /// By night: the availability as the week file gives it, not clipped. The goal reserve counts its minutes.
    /// </summary>
    public required IReadOnlyList<IReadOnlyList<Span>> Available { get; init; }

    /// <summary>Times at which the person is busy elsewhere, in minutes.</summary>
    public required IReadOnlyList<Span> Commitments { get; init; }

    /// <summary>Traits of tasks that the person may not work on.</summary>
    public required IReadOnlyList<string> BarredTraits { get; init; }

    /// <summary>
    /// By night: minute by which a shift of a young worker ends; <see cref="Problem.Never"/> if no limit applies.
    /// </summary>
    public required IReadOnlyList<int> LatestShiftEnds { get; init; }

    /// <summary>Shortest rest in minutes; 0 if the rule does not apply.</summary>
    public required int MinRest { get; init; }

    /// <summary>
    /// A commitment that ends at most this many minutes before a shift forms one working day with it; -1 if none does.
    /// </summary>
    public required int JoinMinutes { get; init; }

    /// <summary>Shortest shift in minutes; 0 if the rule does not apply.</summary>
    public required int MinShift { get; init; }

    /// <summary>
    /// Longest working day in minutes, a joined commitment included; <see cref="Problem.Never"/> if no limit applies.
    /// </summary>
    public required int MaxShift { get; init; }

    /// <summary>
    /// The person's own limit on a shift in minutes, a joined commitment not counted; <see cref="Problem.Never"/> if there is
    /// none.
    /// </summary>
    public required int MaxMinutesPerNight { get; init; }

    /// <summary>Largest number of shifts; <see cref="Problem.Never"/> if no limit applies.</summary>
    public required int MaxNights { get; init; }

    /// <summary>Minutes worked in the pay week before the first night.</summary>
    public required int MinutesAlready { get; init; }

    /// <summary>Longest shift in minutes without a break; <see cref="Problem.Never"/> if the rule does not apply.</summary>
    public required int BreakAfter { get; init; }

    /// <summary>Length of a break in minutes, rounded up to the grid; 0 if the rule does not apply.</summary>
    public required int BreakMinutes { get; init; }

    /// <summary>Least minutes between the start of a shift and its break, and between the break and the shift's end.</summary>
    public required int BreakClear { get; init; }

    /// <summary>No work starts within this many minutes of the start of a shift; 0 if the rule does not apply.</summary>
    public required int Briefing { get; init; }

    /// <summary>
    /// Available minutes in a night, at most the person's own limit per night. Commitments are not subtracted.
    /// </summary>
    public int MinutesAvailable(NightWindow night) =>
        Math.Min(Covered(Available[night.Index], night.Span), MaxMinutesPerNight);

    /// <summary>Minutes of the night covered by at least one entry. Overlapping entries count once.</summary>
    private static int Covered(IReadOnlyList<Span> entries, Span night)
    {
        var (minutes, reached) = (0, night.From);
        foreach (var entry in entries.OrderBy(entry => entry.From))
        {
            var to = Math.Min(entry.To, night.To);
            minutes += Math.Max(0, to - Math.Max(entry.From, reached));
            reached = Math.Max(reached, to);
        }
        return minutes;
    }

    /// <summary>True if the person has the required skill at the required level.</summary>
    public bool Meets(RequiredSkill requirement) => Levels[requirement.Skill] >= requirement.Level;

    internal static Person Of(Problem problem, CrewMember member, int index)
    {
        var (rules, young) = (problem.Rules, member.Under18 ? problem.Rules.Under18 : null);
        var available = Enumerable.Range(0, problem.Nights.Count).Select(night => Spans(problem, member, night)).ToArray();
        bool Bound(RuleExemptions rule) => !member.Exemptions.HasFlag(rule);
        var until = Enumerable.Range(0, problem.Nights.Count).Select(night =>
            young?.Until is { } time && Bound(RuleExemptions.YoungWorker)
                ? problem.Grid.MinuteOf(EveningOf(problem.Week.Nights[night].Opens) + time) : Problem.Never).ToArray();
        var breakMinutes = problem.Grid.RoundUp(young?.BreakMinutes ?? rules.BreakMinutes ?? 0);
        return new Person
        {
            Index = index,
            Id = member.Id,
            Name = member.Name,
            Levels = [.. problem.Skills.Select(skill => member.Skills.GetValueOrDefault(skill))],
            Keyholder = member.Keyholder,
            Under18 = member.Under18,
            Rate = member.RatePerHour,
            Available = available,
            ShiftWindows = [.. available.Select((spans, night) => (IReadOnlyList<Span>)[.. spans
                .Select(span => new Span(
                    Math.Max(span.From, problem.Nights[night].Opens),
                    Math.Min(Math.Min(span.To, problem.Nights[night].Closes), until[night])))
                .Where(span => span.From < span.To)])],
            Commitments = [.. member.Commitments
                .Select(busy => new Span(problem.Grid.MinuteOf(busy.From), problem.Grid.MinuteOf(busy.To)))],
            BarredTraits = Bound(RuleExemptions.YoungWorker) ? young?.Barred ?? [] : [],
            LatestShiftEnds = until,
            MinRest = Bound(RuleExemptions.Rest) ? young?.MinRestMinutes ?? rules.MinRestMinutes ?? 0 : 0,
            JoinMinutes = rules.JoinMinutes ?? -1,
            MinShift = Bound(RuleExemptions.ShiftLength) ? rules.MinShiftMinutes ?? 0 : 0,
            MaxShift = (Bound(RuleExemptions.ShiftLength) ? young?.MaxShiftMinutes ?? rules.MaxShiftMinutes : null)
                ?? Problem.Never,
            MaxMinutesPerNight = (Bound(RuleExemptions.ShiftLength) ? member.MaxMinutesPerNight : null) ?? Problem.Never,
            MaxNights = (Bound(RuleExemptions.ShiftLength) ? member.MaxNights : null) ?? Problem.Never,
            MinutesAlready = member.MinutesAlready,
            BreakAfter = breakMinutes == 0 || !Bound(RuleExemptions.Breaks) ? Problem.Never
                : young?.BreakAfterMinutes ?? rules.BreakAfterMinutes ?? Problem.Never,
            BreakMinutes = breakMinutes,
            BreakClear = rules.BreakClearMinutes ?? 0,
            Briefing = rules.BriefingMinutes ?? 0,
        };
    }

    private static Span[] Spans(Problem problem, CrewMember member, int night)
    {
        var window = problem.Nights[night];
        return [.. member.Available.Where(entry => entry.Night == window.Id).Select(entry => new Span(
            entry.From is { } from ? problem.Grid.MinuteOf(from) : window.Opens,
            entry.To is { } to ? problem.Grid.MinuteOf(to) : window.Closes))];
    }

    /// <summary>The date of the evening: a night that opens before noon belongs to the day before.</summary>
    private static LocalDate EveningOf(LocalDateTime opens) => opens.Hour < 12 ? opens.Date.PlusDays(-1) : opens.Date;
}
