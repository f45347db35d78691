using System.Globalization;
using NodaTime;
using NodaTime.Text;
using OneOf;
using SetWeek.Domain.NewWeeks;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Fields;
using SetWeek.Service.Pages.NewWeeks;

namespace SetWeek.Service.Weeks;

/// <summary>
/// What somebody has answered on the first page of opening a week, which sends it in the address of the second.
/// </summary>
/// <param name="Rules">Those of the sets together, the stricter number where two have one.</param>
/// <param name="Sets">The rule sets that were ticked.</param>
/// <param name="IsAsLast">Whether the rules of the last week were ticked.</param>
internal sealed record NewWeekAnswers(string Direction, LocalDateTime Launch, IReadOnlyList<Night> Nights, RuleSet Rules,
    IReadOnlyList<RuleSetFile> Sets, bool IsAsLast)
{
    private static readonly LocalDateTimePattern LaunchForm =
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");
    private static readonly LocalTimePattern TimeForm = LocalTimePattern.CreateWithInvariantCulture("HH:mm");

    public static IReadOnlyList<QueryParameter> Query { get; } =
    [
        new("direction", "The direction that is set; without it the first page is shown", "first-rain"),
        new("launch", "By when everything stands, in the time of the store", "2027-03-12T09:00"),
        new("nights", "How many nights before the launch", "5", typeof(int)),
        new("opens", "The time of day at which each night opens", "21:30"),
        new("closes", "The time of day at which it closes", "02:00"),
        new("rules", "The id of a rule set, given once for each; \"last\" for the rules of the last week, \"none\" for no rule",
            "great-britain"),
    ];

    /// <returns>The answers, or what is wrong with them; nothing is, if nobody has answered yet.</returns>
    public static OneOf<NewWeekAnswers, List<Fault>> Of(
        Request request, Week? last, IReadOnlyDictionary<string, string> directions)
    {
        if (request.Query("direction") is not { } direction) return new List<Fault>();
        var faults = new List<Fault>();
        if (!directions.ContainsKey(direction)) faults.Add(new("/direction", "There is no such direction; choose one."));
        var launch = Read(LaunchForm, "launch", "Give the day and the time, such as 2027-03-12T09:00.");
        if (launch.Year is < TimePatterns.FirstYear or > TimePatterns.LastYear
            && faults.TrueForAll(fault => fault.Pointer != "/launch"))
            faults.Add(new("/launch", $"Give a year from {TimePatterns.FirstYear} to {TimePatterns.LastYear}."));
        if (!int.TryParse(request.Query("nights"), NumberStyles.None, CultureInfo.InvariantCulture, out var count)
            || count is < 1 or > WeekLimits.Nights)
            faults.Add(new("/nights", $"Give a number from 1 to {WeekLimits.Nights}."));
        var opens = Read(TimeForm, "opens", "Give a time of day, such as 21:30.");
        var closes = Read(TimeForm, "closes", "Give a time of day, such as 02:00.");
        var chosen = RulesOf(request);
        if (FaultOf(chosen, last) is { } fault) faults.Add(new("/rules", fault));
        if (faults.Count > 0) return faults;

        RuleSetFile[] sets = [.. RuleSetFile.All.Where(set => chosen.Contains(set.Id))];
        var earlier = chosen.Contains(NewWeekPage.AsLast) ? last?.Rules : null;
        return new NewWeekAnswers(direction, launch, OfferedNights.Before(launch, count, opens, closes, last),
            StricterRules.Of([.. sets.Select(set => set.Rules), .. earlier is null ? (RuleSet[])[] : [earlier]]), sets,
            earlier is not null);

        T Read<T>(IPattern<T> form, string name, string fault)
        {
            if (!form.Parse(request.Query(name) ?? "").TryGetValue(default!, out var read)) faults.Add(new($"/{name}", fault));
            return read;
        }
    }

    /// <summary>What is wrong with the rule sets that were ticked; null if nothing is.</summary>
    private static string? FaultOf(IReadOnlyList<string> chosen, Week? last) =>
        chosen.Count == 0 ? "Tick at least one."
        : !chosen.All(id => id == NewWeekPage.NoRules || (id == NewWeekPage.AsLast && last is not null)
            || RuleSetFile.All.Any(set => set.Id == id)) ? "There is no such rule set; choose one."
        : chosen.Contains(NewWeekPage.NoRules) && chosen.Distinct().Count() > 1 ? "Tick either none or the sets that apply."
        : null;

    /// <summary>The first page again, with what was answered.</summary>
    public static FormRefusal Again(Request request, IReadOnlyList<Fault> faults) => new(
        request.Context.Address, 200, "", [], faults,
        Query.ToDictionary(parameter => parameter.Name, parameter => parameter.Name == "rules" ? RulesOf(request)
            : (IReadOnlyList<string>)[request.Query(parameter.Name) ?? ""]));

    private static IReadOnlyList<string> RulesOf(Request request) =>
        request.Query("rules")?.Split(',', StringSplitOptions.RemoveEmptyEntries) ?? [];
}
