using NodaTime;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Problems;

/// <summary>
/// Somebody of the crew with the numbers that bind them: where a young-worker number is given, it has replaced the adult one.
/// </summary>
public sealed record Person
{
    public required int Index { get; init; }
    public required string Id { get; init; }
    public required string Name { get; init; }

    /// <summary>Level by skill index; 0: does not have it.</summary>
    public required IReadOnlyList<int> Levels { get; init; }

    public required bool Keyholder { get; init; }
    public required bool Under18 { get; init; }

    /// <summary>Minor units an hour.</summary>
    public required int Rate { get; init; }

    /// <summary>By night: where a shift may lie, availability and a young worker's end taken together, commitments not.</summary>
    public required IReadOnlyList<IReadOnlyList<Span>> ShiftWindows { get; init; }

    /// <summary>By night: what the week file gives as available, clipped to nothing (reserve counts these).</summary>
    public required IReadOnlyList<IReadOnlyList<Span>> Available { get; init; }

    public required IReadOnlyList<Span> Commitments { get; init; }
    public required IReadOnlyList<string> BarredTraits { get; init; }

    /// <summary>By night: minute by which a shift ends (young workers); <see cref="Problem.Never"/> for others.</summary>
    public required IReadOnlyList<int> LatestShiftEnds { get; init; }

    /// <summary>0 where the rule does not apply.</summary>
    public required int MinRest { get; init; }

    /// <summary>A commitment that ends at most this long before a shift is one working day with it; -1: none joins.</summary>
    public required int JoinMinutes { get; init; }

    public required int MinShift { get; init; }

    /// <summary>Longest working day, a joined commitment included; <see cref="Problem.Never"/> where there is none.</summary>
    public required int MaxShift { get; init; }

    /// <summary>Longest shift by the person's own limit, a joined commitment not counted.</summary>
    public required int MaxMinutesPerNight { get; init; }

    public required int MaxNights { get; init; }
    public required int MinutesAlready { get; init; }

    /// <summary>A longer shift has a break; <see cref="Problem.Never"/> where the rule does not apply.</summary>
    public required int BreakAfter { get; init; }

    /// <summary>On the grid.</summary>
    public required int BreakMinutes { get; init; }

    /// <summary>
    /// Minutes of a night in which the person is available, at most their own limit a night; commitments are not subtracted.
    /// </summary>
    public int MinutesAvailable(NightWindow night) =>
        Math.Min(Covered(Available[night.Index], night.Span), MaxMinutesPerNight);

    /// <summary>Minutes of the night that some entry covers; where entries overlap, once.</summary>
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

    public bool Meets(RequiredSkill requirement) => Levels[requirement.Skill] >= requirement.Level;

    internal static Person Of(Problem problem, CrewMember member, int index)
    {
        var (rules, young) = (problem.Rules, member.Under18 ? problem.Rules.Under18 : null);
        var available = Enumerable.Range(0, problem.Nights.Count).Select(night => Spans(problem, member, night)).ToArray();
        bool Bound(RuleExemptions to) => !member.Exemptions.HasFlag(to);
        var until = Enumerable.Range(0, problem.Nights.Count).Select(night => young?.Until is { } time && Bound(RuleExemptions.YoungWorker)
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
            MaxShift = (Bound(RuleExemptions.ShiftLength) ? young?.MaxShiftMinutes ?? rules.MaxShiftMinutes : null) ?? Problem.Never,
            MaxMinutesPerNight = (Bound(RuleExemptions.ShiftLength) ? member.MaxMinutesPerNight : null) ?? Problem.Never,
            MaxNights = (Bound(RuleExemptions.ShiftLength) ? member.MaxNights : null) ?? Problem.Never,
            MinutesAlready = member.MinutesAlready,
            BreakAfter = breakMinutes == 0 || !Bound(RuleExemptions.Breaks) ? Problem.Never
                : young?.BreakAfterMinutes ?? rules.BreakAfterMinutes ?? Problem.Never,
            BreakMinutes = breakMinutes,
        };
    }

    private static Span[] Spans(Problem problem, CrewMember member, int night)
    {
        var window = problem.Nights[night];
        return [.. member.Available.Where(entry => entry.Night == window.Id).Select(entry => new Span(
            entry.From is { } from ? problem.Grid.MinuteOf(from) : window.Opens,
            entry.To is { } to ? problem.Grid.MinuteOf(to) : window.Closes))];
    }

    /// <summary>A night that opens after midnight belongs to the evening before.</summary>
    private static LocalDate EveningOf(LocalDateTime opens) => opens.Hour < 12 ? opens.Date.PlusDays(-1) : opens.Date;
}
