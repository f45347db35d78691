using NodaTime;
using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;

namespace SetWeek.Domain.WalkThroughs;

/// <summary>
/// The snags of the walk-through. A check that was not known to fail, and fails, raises one: it is the store's, and due by the
/// day of the launch. A lead hands it on where somebody else puts it right. Photographs of a report with one check that fails are
/// those of its snag.
/// </summary>
public static class WalkSnags
{
    private const int LongestReport = 94;

    /// <summary>The id of the report of a snag that an answer raises.</summary>
    public static string IdOf(AreaLookedAt look, string check) => IdOf(
        look.Report, look.Answers.Select(answer => answer.Check).TakeWhile(other => other != check).Count());

    /// <param name="report">The report of the walk-through.</param>
    /// <param name="row">The place of the answer in it, from 0.</param>
    public static string IdOf(string report, int row) => $"{report[..Math.Min(report.Length, LongestReport)]}.f{row}";

    /// <summary>The snags that a report raises, each under the next number.</summary>
    /// <param name="week">The week before the report.</param>
    internal static IEnumerable<IWeekEvent> RaisedBy(StoreWeek week, AreaLookedAt look)
    {
        var (before, after) = (WalkThrough.LastAnswers(week), StoreWeek.Evolve(week, look)!);
        var last = WalkThrough.LastAnswers(after);
        var checks = AreaChecks.Of(week, look.Zone).ToDictionary(check => check.Id);
        foreach (var answer in look.Answers.Where(given => given.Answer == CheckResult.NotGood))
        {
            if (!checks.TryGetValue(answer.Check, out var check)) continue;
            var key = (look.Zone, answer.Check);
            var isKnown = before.TryGetValue(key, out var known) && known.Answer.Answer == CheckResult.NotGood;
            if (isKnown || last[key].Look.Report != look.Report) continue;
            var snag = new SnagRaised(IdOf(look, answer.Check), 0, look.Zone, null, null, null, null,
                new SnagOwner(SnagOwnerKind.Store), DueOf(week, look), check.IsSafety, look.By, look.At,
                look.Answers.Count(other => other.Answer == CheckResult.NotGood) == 1 ? look.Photos : null, look.Clock);
            foreach (var raised in after.Raise(snag).Match(events => events, _ => []))
            {
                after = StoreWeek.Evolve(after, raised)!;
                yield return raised;
            }
        }
    }

    private static LocalDate DueOf(StoreWeek week, AreaLookedAt look) =>
        LocalDate.Max(week.Week.Launch.Date, StoreTime.Local(week, look.EffectiveAt()).Date);
}
