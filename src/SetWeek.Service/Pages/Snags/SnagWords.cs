using System.Globalization;
using NodaTime;
using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Snags;

/// <summary>What pages say of snags.</summary>
internal static class SnagWords
{
    public static string Day(LocalDate day) => WeekLabels.Day(day.AtMidnight());

    public static string What(SnagView snag) => snag.What ?? "What is wrong was erased";

    /// <summary>"The store, by Friday 12 March".</summary>
    public static string Whose(SnagView snag) => $"{Capital(snag.Owner.Name)}, by {Day(snag.Due)}";

    public static string Age(SnagView snag) => snag.AgeDays switch
    {
        0 => $"Found today, {WeekLabels.Time(snag.RaisedAt.LocalDateTime)}",
        1 => "1 day old",
        var days => $"{days.ToString(CultureInfo.InvariantCulture)} days old",
    };

    /// <summary>"Put right by Asha Rowan, Monday 8 March 23:00." What was typed then is not in it.</summary>
    public static string Act(SnagView.Act act)
    {
        var changes = WeekLabels.Join(
        [
            .. act.Owner is { } owner ? (string[])[$"to {owner.Name}"] : [],
            .. act.Due is { } due ? (string[])[$"to be right by {Day(due)}"] : [],
        ]);
        var did = act.Kind switch
        {
            SnagView.ActKind.Fixed => "Put right",
            SnagView.ActKind.NotFixed => "Found not right after all",
            SnagView.ActKind.HandedOn => $"Handed on {changes}",
            SnagView.ActKind.AcceptedOpen => "Accepted as it is",
        };
        return $"{did} by {act.By.Name}, {When(act.At)}.";
    }

    public static string State(SnagView snag) => snag.State switch
    {
        SnagState.Open => "It is open.",
        SnagState.Accepted => "It is open, and the lead has accepted it as it is.",
        SnagState.Fixed => "It is put right.",
    };

    public static string When(OffsetDateTime time) =>
        $"{WeekLabels.Day(time.LocalDateTime)} {WeekLabels.Time(time.LocalDateTime)}";

    /// <summary>"Three snags are open, one by which somebody could be hurt. Two are put right."</summary>
    public static string Summary(IReadOnlyList<SnagView> snags)
    {
        if (snags.Count == 0) return "Nothing is on the snag list.";
        var open = snags.Where(snag => snag.IsOpen()).ToList();
        var (dangers, done) = (open.Count(snag => snag.Safety), snags.Count - open.Count);
        var danger = dangers == 0 ? "" : open.Count == 1 ? ", and somebody could be hurt by it"
            : dangers == 1 ? ", one by which somebody could be hurt" : $", {Number(dangers)} by which somebody could be hurt";
        var first = open.Count switch
        {
            0 => "No snag is open.",
            1 => $"One snag is open{danger}.",
            var many => $"{Capital(Number(many))} snags are open{danger}.",
        };
        return done == 0 ? first : $"{first} {Capital(Number(done))} {(done == 1 ? "is" : "are")} put right.";
    }

    public static string OwnerValue(SnagOwnerKind kind) => kind switch
    {
        SnagOwnerKind.HeadOffice => "headOffice",
        _ => Lower(kind.ToString()),
    };

    private static string Number(int count) => count <= 12
        ? ((string[])["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
            "twelve"])[count]
        : count.ToString(CultureInfo.InvariantCulture);

    private static string Capital(string text) => text == "" ? "" : $"{char.ToUpperInvariant(text[0])}{text[1..]}";

    private static string Lower(string text) => $"{char.ToLowerInvariant(text[0])}{text[1..]}";
}
