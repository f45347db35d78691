using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.WalkThroughs;

/// <summary>
/// The walk-through of a week: its areas from the kerb in, with the checks of each and their last answers. Several people may
/// look, in several rounds; a later answer to a check replaces an earlier one. Only ids are in the reports, so what was looked at
/// is the same for every order of arrival.
/// </summary>
/// <param name="Areas">The zones in the order in which the store lists them, which is from the kerb in.</param>
public sealed record WalkThrough(string Week, IReadOnlyList<WalkArea> Areas)
{
    public static WalkThrough Of(StoreWeek week, CrewFile crew)
    {
        var answers = LastAnswers(week);
        return new WalkThrough(week.Id, [.. week.Week.Store.Zones.Select(AreaOf)]);

        WalkArea AreaOf(Zone zone)
        {
            var checks = AreaChecks.Of(week, zone.Id).Select(check => !answers.TryGetValue((zone.Id, check.Id), out var given)
                ? new WalkCheck(check, null)
                : new WalkCheck(check, new WalkAnswer(given.Answer.Answer, given.Answer.Millimetres,
                    StoreTime.AtStore(week, given.Look.EffectiveAt()),
                    [.. given.Look.With.Prepend(given.Look.By).Select(person => NightSheets.PersonOf(crew, person))],
                    given.Look.Report,
                    given.Answer.Answer == CheckResult.NotGood ? SnagOf(week, zone.Id, check.Id) : null))).ToList();
            var last = checks.Select(check => check.Answer?.At).OfType<OffsetDateTime>()
                .OrderBy(at => at.ToInstant()).Select(at => (OffsetDateTime?)at).LastOrDefault();
            return new WalkArea(zone.Id, zone.Name, last,
                [.. checks.SelectMany(check => check.Answer?.By ?? []).Distinct()],
                last is { } looked ? WorkedSince(week, zone.Id, looked.ToInstant()) : [], checks)
            {
                Photos = [.. InOrder(week).Where(look => look.Zone == zone.Id).SelectMany(look => look.Photos ?? [])],
            };
        }
    }

    /// <summary>By zone and check: the last answer, with the report that gives it.</summary>
    internal static IReadOnlyDictionary<(string Zone, string Check), (AnsweredCheck Answer, AreaLookedAt Look)> LastAnswers(
        StoreWeek week) => InOrder(week)
        .SelectMany(look => look.Answers.Select(answer => (Key: (look.Zone, answer.Check), Given: (answer, look))))
        .GroupBy(given => given.Key).ToDictionary(given => given.Key, given => given.Last().Given);

    private static IEnumerable<AreaLookedAt> InOrder(StoreWeek week) => week.AreaLooks
        .OrderBy(look => look.EffectiveAt().ToInstant()).ThenBy(look => look.StatedAt().ToInstant())
        .ThenBy(look => look.Report, StringComparer.Ordinal);

    /// <summary>The snag that the check has raised last; null if it has raised none.</summary>
    private static int? SnagOf(StoreWeek week, string zone, string check) => week.AreaLooks
        .Where(look => look.Zone == zone && look.Answers.Any(answer => answer.Check == check))
        .Select(look => week.Snags.Numbers.TryGetValue(WalkSnags.IdOf(look, check), out var number) ? (int?)number : null).Max();

    /// <summary>Work that was begun or finished in the zone after it was looked at; what must be seen once more.</summary>
    private static IReadOnlyList<string> WorkedSince(StoreWeek week, string zone, Instant looked)
    {
        var tasks = week.Week.Tasks.Where(task => task.Zone == zone).ToDictionary(task => task.Id);
        return [.. week.ReportedWork.Statuses.Where(status => status.State is WorkState.Running or WorkState.Done
                && status.Since > looked && status.Subject.Task is { } task && tasks.ContainsKey(task))
            .Select(status => tasks[status.Subject.Task!].Name).Distinct()];
    }
}

/// <summary>An area of the walk-through, which is a zone.</summary>
/// <param name="LookedAt">When it was last looked at; absent unless it was.</param>
/// <param name="By">Who gave the answers that count.</param>
/// <param name="WorkedSince">The names of tasks that were worked on there since.</param>
public sealed record WalkArea(
    string Zone, string Name, OffsetDateTime? LookedAt, IReadOnlyList<SheetPerson> By, IReadOnlyList<string> WorkedSince,
    IReadOnlyList<WalkCheck> Checks)
{
    /// <summary>The ids of photographs of the area, the first one first.</summary>
    public IReadOnlyList<string> Photos { get; init; } = [];

    /// <summary>How many of its checks nobody has answered.</summary>
    public int Unanswered => Checks.Count(check => check.Answer is null);

    /// <summary>How many of its checks failed last.</summary>
    public int Failed => Checks.Count(check => check.Answer?.Answer == CheckResult.NotGood);
}

/// <param name="Answer">The last answer; absent if there is none.</param>
public sealed record WalkCheck(AreaCheck Check, WalkAnswer? Answer);

/// <param name="Millimetres">The figure that was measured.</param>
/// <param name="By">Who looked; the first of them signed.</param>
/// <param name="Report">The id of the report that gave the answer.</param>
/// <param name="Snag">Of a check that fails: the number of the snag that it has raised; absent if it has raised none.</param>
public sealed record WalkAnswer(
    CheckResult Answer, int? Millimetres, OffsetDateTime At, IReadOnlyList<SheetPerson> By, string Report, int? Snag)
{
    /// <summary>The reason in words, which is a note; absent without one, and for readers who may not read it.</summary>
    public string? Why { get; init; }
}
