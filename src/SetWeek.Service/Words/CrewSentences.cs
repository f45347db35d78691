using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Words;

/// <summary>A person of the crew as a lead reads them: skills, when they can come, what limits them.</summary>
public static class CrewSentences
{
    /// <summary>"painting (level 2) and dressing (level 1)": the highest level first.</summary>
    public static string Skills(CrewMember member) => member.Skills.Count == 0 ? "No skill is recorded."
        : $"{Capitalised(WeekLabels.Join([.. member.Skills.OrderByDescending(skill => skill.Value)
            .ThenBy(skill => skill.Key, StringComparer.Ordinal).Select(skill => $"{skill.Key} (level {skill.Value} of 3)")]))}.";

    /// <summary>When the person can come in a night: "all night", "20:00 to 23:30", "cannot come", "absent".</summary>
    public static string InNight(CrewMember member, Night night, bool isAbsent)
    {
        if (isAbsent) return "absent";
        var spans = SpansIn(member, night).OrderBy(span => span.From).ToList();
        if (spans.Count == 0) return "cannot come";
        return string.Join(" and ", spans.Select(span => (span.From <= night.Opens, span.To >= night.Closes) switch
        {
            (true, true) => "all night",
            (true, false) => $"until {WeekLabels.Time(span.To)}",
            (false, true) => $"from {WeekLabels.Time(span.From)}",
            _ => $"{WeekLabels.Time(span.From)} to {WeekLabels.Time(span.To)}",
        }));
    }

    /// <summary>Whether the person can come in some part of a night.</summary>
    public static bool ComesIn(CrewMember member, Night night, bool isAbsent) => !isAbsent && SpansIn(member, night).Any();

    /// <summary>Where the person is busy elsewhere, and how much they may work here.</summary>
    public static IEnumerable<string> Limits(CrewMember member)
    {
        if (member.Commitments.Count > 0)
            yield return $"Busy elsewhere: {WeekLabels.Join([.. member.Commitments.OrderBy(busy => busy.From).Select(Span)])}.";
        var limits = new[]
        {
            member.MaxMinutesPerNight is { } minutes ? $"{GoalLabels.Length(minutes)} a night" : null,
            member.MaxNights is { } nights ? nights == 1 ? "1 night" : $"{nights} nights" : null,
        }.OfType<string>().ToList();
        if (limits.Count > 0) yield return $"At most {WeekLabels.Join(limits)}.";
    }

    /// <summary>What only those read who plan the work and pay for it.</summary>
    public static IEnumerable<string> Particulars(CrewMember member, string currency)
    {
        yield return $"{Money.Of(member.RatePerHour, currency)} an hour.";
        if (member.MinutesAlready > 0)
            yield return $"{GoalLabels.Length(member.MinutesAlready)} worked in this pay week before the first night.";
        if (member.Under18) yield return "Under 18: the rules for young workers are kept.";
    }

    private static IEnumerable<(LocalDateTime From, LocalDateTime To)> SpansIn(CrewMember member, Night night) =>
        member.Available.Where(available => available.Night == night.Id)
            .Select(available => (From: available.From ?? night.Opens, To: available.To ?? night.Closes))
            .Where(span => span.From < span.To);

    private static string Span(Commitment busy) => busy.From.Date == busy.To.Date
        ? $"{WeekLabels.Day(busy.From)}, {WeekLabels.Time(busy.From)} to {WeekLabels.Time(busy.To)}"
        : $"{WeekLabels.Day(busy.From)}, {WeekLabels.Time(busy.From)}, to {WeekLabels.Day(busy.To)}, {WeekLabels.Time(busy.To)}";

    private static string Capitalised(string text) => $"{char.ToUpperInvariant(text[0])}{text[1..]}";
}
