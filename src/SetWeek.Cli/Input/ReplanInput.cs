using NodaTime;
using NodaTime.Text;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Cli.Input;

/// <summary>Reads what a re-plan starts from: the published plan, the current time and the reported work.</summary>
internal static class ReplanInput
{
    private static readonly LocalDateTimePattern Minute =
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'HH':'mm");

    /// <returns>Store-local; null if the text is no time.</returns>
    public static LocalDateTime? Time(string? text) =>
        text is not null && Minute.Parse(text) is { Success: true } time ? time.Value : null;

    /// <summary>The first thing wrong with --published, --now and --progress, as a sentence; null if they are valid.</summary>
    public static string? Fault(string? published, string? now, string? progress) =>
        published is null != now is null ? "Give --published and --now together, or neither."
        : progress is not null && published is null ? "--progress needs --published and --now."
        : TimeFault(now);

    /// <summary>The error message for an invalid --now; null for a valid or absent one.</summary>
    public static string? TimeFault(string? now) =>
        now is null || Time(now) is not null ? null
        : "--now needs the local time in the store, for example 2027-03-09T14:00.";

    /// <param name="week">In its current state.</param>
    /// <param name="published">Path of the plan file.</param>
    /// <param name="now">Store-local.</param>
    /// <param name="progress">Path of the progress file; null if no work is reported.</param>
    /// <returns>Null after the faults have been printed.</returns>
    public static Replan? Read(Week week, string published, LocalDateTime now, string? progress)
    {
        if (InputFile.Read(published, json => PlanFile.ReadPublished(json, week)) is not { } plan) return null;
        if (progress is not null) return InputFile.Read(progress, json => ReplanFile.Read(week, plan, now, json));
        // A forgotten --progress makes a week look infeasible, hence the warning.
        if (plan.Nights.SelectMany(night => night.Work).Any(work => work.From.LocalDateTime < now))
            Console.Error.WriteLine(
                "Warning: the plan has work before --now, and none of it is reported. It counts as not begun. "
                + "Give --progress to report it.");
        return new Replan(plan, now, []);
    }
}
