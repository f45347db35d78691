using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages;

/// <summary>
/// A plan as a page to print and hang up: the shifts and the work of each night. It has no scripts.
/// </summary>
public static class WeekPage
{
    public const string ContentType = "text/html; charset=utf-8";

    /// <param name="title">The direction and the store.</param>
    /// <param name="state">The state of the plan: published, ready, overtaken.</param>
    /// <param name="options">For a re-plan: the table of its options.</param>
    /// <param name="address">
    /// The address of the plan, for links to its explanations and its risk; null if the reader may not see those.
    /// </param>
    /// <param name="chance">The chance that the plan holds, measured when it was computed; null if it was not.</param>
    public static string Of(string title, Week week, Plan plan, string state, Html options = default, string? address = null,
        HoldChance? chance = null)
    {
        var (words, bare) = (new WeekLabels(week), BareSentences.ByNight(week, plan));
        var nights = plan.Nights.Where(night => night.Work.Count > 0 || night.Shifts.Count > 0).ToList();
        return PageFrame.Of($"{title}: the week, night by night", Html.Of($"""
            <header>
            <h1>{title}</h1>
            <p>{Sentence(state)} Everything must be ready by {WeekLabels.Day(week.Launch)}, {WeekLabels.Time(week.Launch)}.</p>
            {Sentences("Left out", plan.LeftOut.Select(words.Display))}
            {Sentences("Rules already broken by what has happened", plan.Breaches.Select(breach => breach.Sentence))}
            {Sentences("Times that count only in part", plan.Notes)}
            {Sentences(PlanSentences.UnplacedHeading, plan.Unplaced.Select(breach => breach.Sentence))}
            {Sentences("Why there is no plan", [.. plan.Conflict.Select(member => member.Sentence), .. ConflictNotes(plan)])}
            {Sentences("Each of these makes a plan possible (proven)", plan.Repairs.Select(repair => repair.Sentence))}
            {(PlanSentences.RepairOrder(plan) is { } order ? Html.Of($"<p>{order}</p>") : Html.None)}
            {(chance is null ? Html.None : Chance(week, chance))}
            {(nights.Count == 0 ? Html.None : Risk(address))}
            </header>
            {options}
            <nav aria-label="Nights"><ul>
            {nights.Select(night => Html.Of($"<li><a href=\"#{night.Night}\">{Name(words, night)}</a></li>"))}
            </ul></nav>
            <main>
            {nights.Select(night => NightPage.Of(words, night, Name(words, night), bare.GetValueOrDefault(night.Night), address))}
            {Sentences("Without slack", plan.Tight.Select(tight => tight.Sentence))}
            </main>
            <footer>
            <p><strong>Safety.</strong> The cautions on this page are not complete. Local law and local codes,
            the rules of the building and the makers' instructions come first. Work that needs a licensed or trained
            person is done
            by one.
            Anyone who sees a danger stops the work.</p>
            </footer>
            """));
    }

    private static Html Chance(Week week, HoldChance chance) =>
        Html.Of($"{new ChanceSentences(week).Of(chance).Select(sentence => Html.Of($"<p>{sentence}</p>"))}");

    private static Html Risk(string? address) => address is null ? Html.None
        : Html.Of($"<p class=\"why\"><a href=\"{address}/risk\">How surely does the plan hold, and what would help?</a></p>");

    private static string Name(WeekLabels words, PlannedNight night) => words.Night(night.Night) is { } window
        ? WeekLabels.Day(window.Opens) : night.Night;

    private static string Sentence(string state) => $"{char.ToUpperInvariant(state[0])}{state[1..]}.";

    private static IEnumerable<string> ConflictNotes(Plan plan) =>
        new[] { PlanSentences.Minimality(plan), PlanSentences.NoRepair(plan) }.OfType<string>();

    private static Html Sentences(string heading, IEnumerable<string> sentences) => sentences.ToList() is { Count: > 0 } items
        ? Html.Of($"<p><strong>{heading}.</strong></p><ul>{items.Select(sentence => Html.Of($"<li>{sentence}</li>"))}</ul>")
        : Html.None;
}
