using NodaTime;
using NodaTime.Text;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Cli.Input;

/// <summary>The published plan, the time it is and what the floor has reported, from a command's options.</summary>
internal static class ReplanInput
{
    private static readonly LocalDateTimePattern Minute =
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'HH':'mm");

    /// <summary>Null where the text is no time.</summary>
    public static LocalDateTime? Time(string? text) =>
        text is not null && Minute.Parse(text) is { Success: true } time ? time.Value : null;

    /// <summary>Null where there is something wrong, which has been said.</summary>
    /// <param name="week">As it now stands.</param>
    /// <param name="published">Path of the plan file.</param>
    /// <param name="now">Store-local.</param>
    /// <param name="progress">Path of the progress file; null: nothing is reported.</param>
    public static Replan? Read(Week week, string published, LocalDateTime now, string? progress)
    {
        if (InputFile.Read(published, json => PlanFile.ReadPublished(json, week)) is not { } plan) return null;
        if (progress is not null) return InputFile.Read(progress, json => ReplanFile.Read(week, plan, now, json));
        // Easily forgotten, and what comes of it looks as if the week could not be done.
        if (plan.Nights.SelectMany(night => night.Work).Any(work => work.From.LocalDateTime < now))
            Console.Error.WriteLine("Work planned before now is taken as not begun: nothing is reported of it (--progress).");
        return new Replan(plan, now, []);
    }
}
