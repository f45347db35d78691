using System.Globalization;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Pages.Facts;

/// <summary>The parameters of the rules in words. The names are the fields of a week file's rules.</summary>
public static class RuleWords
{
    /// <summary>The parameters that are numbers, in the order in which a page asks for them.</summary>
    public static IReadOnlyList<(string Name, string Label, int? Value)> Numbers(RuleSet rules) =>
    [
        ("minRestMinutes", "Least rest between two shifts, in minutes", rules.MinRestMinutes),
        ("joinMinutes", "A time elsewhere that ends so many minutes before a shift is one working day with it",
            rules.JoinMinutes),
        ("minShiftMinutes", "Shortest shift, in minutes", rules.MinShiftMinutes),
        ("maxShiftMinutes", "Longest working day, in minutes", rules.MaxShiftMinutes),
        ("shiftGridMinutes", "Shifts start and end on whole steps of so many minutes", rules.ShiftGridMinutes),
        ("breakAfterMinutes", "A shift longer than so many minutes has a break", rules.BreakAfterMinutes),
        ("breakMinutes", "Length of a break, in minutes", rules.BreakMinutes),
        ("breakClearMinutes", "Least minutes between a break and an end of the shift", rules.BreakClearMinutes),
        ("briefingMinutes", "Minutes of briefing at the start of a shift", rules.BriefingMinutes),
        ("minPeople", "People on shift at any time, at least", rules.MinPeople),
        ("openingMinutes", "Minutes to open up before the first work", rules.OpeningMinutes),
        ("closingMinutes", "Minutes to close up after the last work", rules.ClosingMinutes),
        ("overtimeAfterMinutes", "Overtime begins after so many minutes of the pay week", rules.OvertimeAfterMinutes),
        ("overtimePercent", "Pay of overtime, in percent", rules.OvertimePercent),
        ("launchBufferMinutes", "All work ends so many minutes before the launch", rules.LaunchBufferMinutes),
        ("noticeMinutes", "A change within so many minutes of a shift is at short notice", rules.NoticeMinutes),
        ("reservePercent", "The last night may use so much of the crew's time, in percent", rules.ReservePercent),
    ];

    /// <summary>The same for people under 18.</summary>
    public static IReadOnlyList<(string Name, string Label, int? Value)> Young(Under18Rules? rules) =>
    [
        ("minRestMinutes", "Least rest, in minutes", rules?.MinRestMinutes),
        ("maxShiftMinutes", "Longest working day, in minutes", rules?.MaxShiftMinutes),
        ("breakAfterMinutes", "A break after more than so many minutes", rules?.BreakAfterMinutes),
        ("breakMinutes", "Length of a break, in minutes", rules?.BreakMinutes),
    ];

    /// <summary>"Least rest between two shifts, in minutes: 660."</summary>
    /// <param name="rule">A field of a week file's rules, with a dot for a field of "under18".</param>
    public static string Sentence(string rule, RuleSet rules) => rule switch
    {
        "keyholderPresent" => "Somebody with the keys is there from first to last.",
        "company" => $"Nobody does this alone; people at work in its zone, at least: {ValueOf(rule, rules)}.",
        "under18.until" => $"Under 18, a shift ends by {ValueOf(rule, rules)}.",
        "under18.barred" => $"Under 18, not allowed: {ValueOf(rule, rules)}.",
        _ => $"{(IsYoung(rule) ? "Under 18: " : "")}{Numbered(rule, rules).Label}: {ValueOf(rule, rules)}.",
    };

    /// <summary>The value of a rule alone: "660", "22:00", "ladder 2, lift 2".</summary>
    /// <inheritdoc cref="Sentence"/>
    public static string ValueOf(string rule, RuleSet rules) => rule switch
    {
        "keyholderPresent" => rules.KeyholderPresent ? "yes" : "no",
        "company" => string.Join(", ", rules.Company.Select(company => $"{company.Trait} {company.People}")),
        "under18.until" => string.Create(CultureInfo.InvariantCulture, $"{rules.Under18?.Until:HH:mm}"),
        "under18.barred" => string.Join(", ", rules.Under18?.Barred ?? []),
        _ => $"{Numbered(rule, rules).Value}",
    };

    private static bool IsYoung(string rule) => rule.StartsWith("under18.", StringComparison.Ordinal);

    private static (string Name, string Label, int? Value) Numbered(string rule, RuleSet rules) =>
        IsYoung(rule) ? Young(rules.Under18).First(number => $"under18.{number.Name}" == rule)
            : Numbers(rules).First(number => number.Name == rule);
}
