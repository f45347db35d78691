using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages;

/// <summary>One night of the week; printed, it starts a new sheet.</summary>
internal static class NightPage
{
    /// <param name="words">The names of the week.</param>
    /// <param name="night">The night's shifts and work.</param>
    /// <param name="name">What the night is called.</param>
    /// <param name="bare">The zones that are bare when the store opens after it; null: none.</param>
    /// <param name="address">The address of the plan, for links to explanations; null: no links.</param>
    public static Html Of(WeekLabels words, PlannedNight night, string name, string? bare = null, string? address = null)
    {
        var change = words.ClocksChange(night);
        return Html.Of($"""
            <section class="night" id="{night.Night}">
            <h2>{name}</h2>
            <p>{Window(words, night)}{Keyholder(words, night)}{(change ? " The clocks change in this night." : "")}</p>
            {Bans(words, night)}
            <table>
            <caption>Shifts</caption>
            <thead><tr><th scope="col">Person</th><th scope="col">From</th>
            <th scope="col">To</th><th scope="col">Break</th></tr></thead>
            <tbody>
            {Shifts(words, night).Select(shift => Of(words, shift, change))}
            </tbody>
            </table>
            <h3>Work</h3>
            <ol class="work">
            {InOrder(night).Select(work => Of(words, work, change, address))}
            </ol>
            {(bare is null ? Html.None : Html.Of($"<p>{bare}</p>"))}
            </section>
            """);
    }

    private static IEnumerable<PlannedShift> Shifts(WeekLabels words, PlannedNight night) =>
        night.Shifts.OrderBy(shift => shift.From.ToInstant()).ThenBy(shift => words.Person(shift.Person), StringComparer.Ordinal);

    private static IEnumerable<PlannedWork> InOrder(PlannedNight night) =>
        night.Work.OrderBy(work => work.From.ToInstant()).ThenBy(work => work.To.ToInstant())
            .ThenBy(work => work.Task, StringComparer.Ordinal);

    private static string Window(WeekLabels words, PlannedNight night) => words.Night(night.Night) is { } window
        ? $"From {WeekLabels.Time(window.Opens)} to {WeekLabels.Time(window.Closes)}, {WeekLabels.Day(window.Closes)}." : "";

    private static string Keyholder(WeekLabels words, PlannedNight night) =>
        night.Keyholder is { } keyholder ? $" Keyholder: {words.Person(keyholder)}." : "";

    private static Html Bans(WeekLabels words, PlannedNight night) => words.Night(night.Night) is { Bans: { Count: > 0 } bans }
        ? Html.Of($"""
            <p class="quiet">Not allowed: {string.Join("; ", bans.Select(BanText))}.</p>
            """) : Html.None;

    private static string BanText(Ban ban) => $"{ban.Trait} from {WeekLabels.Time(ban.From)} to {WeekLabels.Time(ban.To)}";

    private static Html Of(WeekLabels words, PlannedShift shift, bool change) => Html.Of($"""
        <tr><th scope="row">{words.Person(shift.Person)}</th><td>{WeekLabels.Time(shift.From, change)}</td>
        <td>{WeekLabels.Time(shift.To, change)}</td><td>{Break(shift, change)}</td></tr>
        """);

    private static string Break(PlannedShift shift, bool change) =>
        shift.Break is { } rest ? $"{WeekLabels.Time(rest.From, change)}–{WeekLabels.Time(rest.To, change)}" : "none";

    private static Html Of(WeekLabels words, PlannedWork work, bool change, string? address)
    {
        var task = words.Task(work.Task);
        return Html.Of($"""
            <li><div class="time">{WeekLabels.Time(work.From, change)}–{WeekLabels.Time(work.To, change)}</div>
            <div><h3>{words.Work(work)}</h3>
            <p class="quiet">{words.ZoneOf(work)}{People(words, work)}{WhyLink(work, address)}</p>
            {Cautions(task)}
            {StepsAndChecks(task)}</div></li>
            """);
    }

    private static Html WhyLink(PlannedWork work, string? address) => address is null || work.Task is null ? Html.None
        : Html.Of(
            $" <a class=\"why\" href=\"{address}/why/{work.Task}?stint={work.Stint ?? 1}\">Why then, why these people?</a>");

    private static Html Cautions(WeekTask? task) => task is not { Cautions.Count: > 0 } ? Html.None
        : Html.Of($"""<ul class="cautions" aria-label="Cautions">{task.Cautions.Select(Item)}</ul>""");

    private static string People(WeekLabels words, PlannedWork work) => work.People.Count == 0 ? ": no people needed"
        : $": {string.Join(", ", work.People.Select(person => $"{words.Person(person.Person)} ({person.Skill})"))}";

    private static Html StepsAndChecks(WeekTask? task) => task is null or { Steps.Count: 0, Checks.Count: 0 } ? Html.None
        : Html.Of($"""
        <details><summary>Steps and checks</summary>
        {List("ol", task.Steps)}
        {(task.Checks.Count > 0 ? Html.Of($"<p>Done when:</p>{List("ul", task.Checks)}") : Html.None)}
        </details>
        """);

    private static Html List(string kind, IReadOnlyList<string> items) => items.Count == 0 ? Html.None
        : Html.Of($"<{kind}>{items.Select(Item)}</{kind}>");

    private static Html Item(string text) => Html.Of($"<li>{text}</li>");
}
