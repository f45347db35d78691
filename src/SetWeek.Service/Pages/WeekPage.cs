using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages;

/// <summary>
/// A plan as a page that hangs on the stockroom door: night by night, who is on and what is done when. No scripts.
/// </summary>
public static class WeekPage
{
    public const string ContentType = "text/html; charset=utf-8";

    /// <param name="title">Of which direction in which store.</param>
    /// <param name="standing">What the plan is: published, ready, overtaken.</param>
    /// <param name="options">Of a re-plan that is looked at before it is chosen.</param>
    /// <param name="address">
    /// Of the plan, for a reader who may ask why it is so and how likely it is to hold: the page then says where.
    /// </param>
    public static string Of(string title, Week week, Plan plan, string standing, Html options = default, string? address = null)
    {
        var words = new WeekLabels(week);
        var nights = plan.Nights.Where(night => night.Work.Count > 0 || night.Shifts.Count > 0).ToList();
        return PageFrame.Of($"{title}: the week, night by night", Html.Of($"""
            <header>
            <h1>{title}</h1>
            <p>{Sentence(standing)} Everything stands by {WeekLabels.Day(week.Launch)}, {WeekLabels.Time(week.Launch)}.</p>
            {Sentences("Left out", plan.LeftOut.Select(words.Display))}
            {Sentences("What the facts have broken already", plan.Breaches.Select(breach => breach.Sentence))}
            {Sentences("Why there is no plan", [.. plan.Conflict.Select(member => member.Sentence), .. Proof(plan)])}
            {Sentences("What is proven to help", plan.Repairs.Select(repair => repair.Sentence))}
            {(nights.Count == 0 ? Html.None : Risk(address))}
            </header>
            {options}
            <nav aria-label="Nights"><ul>
            {nights.Select(night => Html.Of($"<li><a href=\"#{night.Night}\">{Name(words, night)}</a></li>"))}
            </ul></nav>
            <main>
            {nights.Select(night => NightPage.Of(words, night, Name(words, night), address))}
            {Sentences("What has no slack", plan.Tight.Select(tight => tight.Sentence))}
            </main>
            <footer>
            <p><strong>Safety.</strong> The cautions are the usual ones of the trade and complete nowhere. Local law and local codes,
            the rules of the building and the makers' instructions come first, and what asks for a licensed or a trained person is
            done by one.
            Whoever sees a danger stops the work.</p>
            </footer>
            """));
    }

    private static Html Risk(string? address) => address is null ? Html.None
        : Html.Of($"<p class=\"why\"><a href=\"{address}/risk\">How likely is it to hold?</a></p>");

    private static string Name(WeekLabels words, PlannedNight night) => words.Night(night.Night) is { } window
        ? WeekLabels.Day(window.Opens) : night.Night;

    private static string Sentence(string standing) => $"{char.ToUpperInvariant(standing[0])}{standing[1..]}.";

    private static IEnumerable<string> Proof(Plan plan) =>
        new[] { PlanSentences.Minimality(plan), PlanSentences.NoRepair(plan) }.OfType<string>();

    private static Html Sentences(string heading, IEnumerable<string> sentences) => sentences.ToList() is { Count: > 0 } told
        ? Html.Of($"<p><strong>{heading}.</strong></p><ul>{told.Select(sentence => Html.Of($"<li>{sentence}</li>"))}</ul>")
        : Html.None;
}
