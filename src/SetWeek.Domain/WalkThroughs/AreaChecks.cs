using System.Security.Cryptography;
using System.Text;
using SetWeek.Domain.Checks;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.WalkThroughs;

/// <summary>
/// The checks of an area: those that every store has, and those of the direction. A check of safety work, or of a way out, stands
/// by itself. The other checks of a display are answered together, and the answer says of the whole display that it is as drawn.
/// </summary>
public static class AreaChecks
{
    /// <param name="zone">The id of a zone of the store.</param>
    public static IReadOnlyList<AreaCheck> Of(StoreWeek week, string zone)
    {
        var tasks = StandingTasks(week).Where(task => task.Zone == zone).ToList();
        return
        [
            .. StandardChecks.All.WalkThrough.Where(check => !check.IsDressed || tasks.Count > 0).Select(check => new AreaCheck(
                check.Id, check.Sentence, [], check.IsSafety, check.AtLeastMillimetres, check.Source)),
            .. tasks.Where(IsSafety).SelectMany(task => task.Checks.Select(check => new AreaCheck(
                IdOf(task.Id, check), check, [task.Name], true, null, null))),
            .. from task in tasks
                where !IsSafety(task)
                group task by task.Display into display
                let checks = display.SelectMany(task => task.Checks).Distinct().ToList()
                where checks.Count > 0
                select new AreaCheck(IdOf(display.Key, checks), NameOf(week, display.Key), checks, false, null, null),
        ];
    }

    /// <summary>The tasks that the published plan has, or that were reported: the others build nothing here.</summary>
    private static IEnumerable<WeekTask> StandingTasks(StoreWeek week)
    {
        var planned = (week.Published?.Plan.Nights ?? []).SelectMany(night => night.Work).Select(work => work.Task)
            .Concat(week.ReportedWork.Statuses.Select(status => status.Subject.Task)).ToHashSet();
        return week.Week.Tasks.Where(task => planned.Contains(task.Id));
    }

    private static bool IsSafety(WeekTask task) =>
        task.Traits.Any(trait => trait is WeekTask.SafetyTrait or WeekTask.WayOutTrait);

    private static string NameOf(StoreWeek week, string display) =>
        $"{week.Week.Displays.FirstOrDefault(known => known.Id == display)?.Name ?? display}, as drawn.";

    /// <summary>An id that changes with the words, so that an answer to other words does not count.</summary>
    private static string IdOf(string of, params IReadOnlyList<string> sentences)
    {
        var hash = SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', sentences)));
        return $"{of[..Math.Min(of.Length, 80)]}.{Convert.ToHexStringLower(hash)[..8]}";
    }
}

/// <summary>A check of an area.</summary>
/// <param name="Details">The sentences that are answered together; of safety work, the name of its task.</param>
/// <param name="IsSafety">Whether somebody could be hurt where it fails.</param>
/// <param name="AtLeastMillimetres">A figure is measured, and is at least this unless the local code says otherwise.</param>
/// <param name="Source">Where it comes from; absent for checks of the direction.</param>
public sealed record AreaCheck(
    string Id, string Sentence, IReadOnlyList<string> Details, bool IsSafety, int? AtLeastMillimetres, string? Source);
