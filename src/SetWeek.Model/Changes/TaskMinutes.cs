using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A task has another duration. Its other modes and its estimate are scaled in proportion and rounded up.</summary>
/// <param name="Task">Id of the task.</param>
/// <param name="Minutes">Duration of the whole task in its first mode, in minutes.</param>
public sealed record TaskMinutes(string Task, int Minutes) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "minutes";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    public override Week Apply(Week week) => week with
    {
        Tasks = [.. week.Tasks.Select(task => task.Id != Task ? task : task with
        {
            Modes = [.. task.Modes.Select(mode => mode with { Minutes = Scaled(mode.Minutes, task.Modes[0].Minutes) })],
            Estimate = task.Estimate is not { } estimate ? null : new Estimate(
                Scaled(estimate.Optimistic, task.Modes[0].Minutes), Scaled(estimate.Pessimistic, task.Modes[0].Minutes)),
        })],
    };

    /// <inheritdoc/>
    public override string Sentence(Week week) => $"{WeekPhrases.Task(week, Task)} takes {Minutes} minutes.";

    internal static WeekChange Read(JsonFields at) => new TaskMinutes(at.Id("task"), at.Int("minutes", 1, WeekLimits.Minutes));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("task", Task);
        json.Number("minutes", Minutes);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) => [known.Tasks.UnknownIdFault("/task", Task)];

    private int Scaled(long minutes, long first) => (int)Math.Min(WeekLimits.Minutes, ((minutes * Minutes) + first - 1) / first);
}
