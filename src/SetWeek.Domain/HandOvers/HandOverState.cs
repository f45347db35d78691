using SetWeek.Domain.Closings;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Snags;
using SetWeek.Domain.WalkThroughs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.HandOvers;

/// <summary>What keeps a week from being handed over, and what would be accepted open.</summary>
/// <param name="Hindrances">What could hurt somebody, a sentence each. While there is one, nobody accepts the week.</param>
/// <param name="OpenChecks">The checks of the walk-through that failed last, hurt nobody and have no open snag.</param>
/// <param name="OpenSnags">The snags that are not put right and hurt nobody, by number.</param>
/// <param name="Unanswered">How many checks that hurt nobody have no answer yet.</param>
/// <param name="DisplaysNotDone">The names of the displays with work that is not done.</param>
public sealed record HandOverState(
    IReadOnlyList<string> Hindrances, IReadOnlyList<OpenAreaCheck> OpenChecks, IReadOnlyList<OpenSnag> OpenSnags,
    int Unanswered, IReadOnlyList<string> DisplaysNotDone)
{
    public static HandOverState Of(StoreWeek week)
    {
        var walk = WalkThrough.Of(week, new CrewFile(week.Id, []));
        var checks = walk.Areas.SelectMany(area => area.Checks.Select(check =>
            (Area: area, check.Check, check.Answer?.Answer, check.Answer?.Snag))).ToList();
        var planned = (week.Published?.Plan.Nights ?? []).SelectMany(night => night.Work).Select(work => work.Task).ToHashSet();
        var left = week.Week.Tasks.Where(task => planned.Contains(task.Id) && !HalfSecuredTask.IsDone(week, task)).ToList();
        var snags = week.AllSnags().Where(snag => snag.IsOpen).ToList();
        return new HandOverState(
            [
                .. week.StandingStops.Select(stop => stop.Zone is { } zone
                    ? $"Work in {ZoneName(week, zone)} is stopped as not safe, and no lead has lifted the stop."
                    : "All work is stopped as not safe, and no lead has lifted the stop."),
                .. HalfSecuredTask.Of(week).Select(open => open.Sentence),
                .. left.Where(task => task.Traits.Contains(WeekTask.SafetyTrait) || task.Traits.Contains(WeekTask.WayOutTrait))
                    .Select(task => $"Safety work is not done: “{task.Name}”."),
                .. checks.Where(check => check is { Check.IsSafety: true, Answer: CheckResult.NotGood })
                    .Select(check => $"{check.Area.Name}, not good: “{check.Check.Sentence}”"),
                .. from check in checks
                    where check is { Check.IsSafety: true, Answer: null }
                    group check by check.Area.Name into area
                    select $"{area.Key}: {(area.Count() == 1 ? "1 check of safety is" : $"{area.Count()} checks of safety are")} "
                        + "not looked at.",
                .. snags.Where(snag => snag.Raised.Safety).Select(snag =>
                    $"Snag {snag.Number} could hurt somebody, and is not put right: {SnagPhrases.Place(week, snag.Raised)}."),
            ],
            [
                .. checks.Where(check => check is { Check.IsSafety: false, Answer: CheckResult.NotGood }
                    && snags.All(snag => snag.Number != check.Snag)).Select(check =>
                    new OpenAreaCheck(check.Area.Zone, check.Area.Name, check.Check.Id, check.Check.Sentence)),
            ],
            [.. snags.Where(snag => !snag.Raised.Safety).Select(snag =>
                new OpenSnag(snag.Number, SnagPhrases.Place(week, snag.Raised)))],
            checks.Count(check => check is { Check.IsSafety: false, Answer: null }),
            [.. week.Week.Displays.Where(display => left.Any(task => task.Display == display.Id))
                .Select(display => display.Name)]);
    }

    private static string ZoneName(StoreWeek week, string id) =>
        week.Week.Store.Zones.FirstOrDefault(zone => zone.Id == id)?.Name ?? id;
}

/// <summary>A snag that is not put right.</summary>
/// <param name="Where">The zone, display or piece by name.</param>
public sealed record OpenSnag(int Number, string Where);

/// <summary>A check of an area that failed last.</summary>
public sealed record OpenAreaCheck(string Zone, string ZoneName, string Check, string Sentence);
