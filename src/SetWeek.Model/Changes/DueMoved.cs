using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A task is due by another night.</summary>
/// <param name="Task">Id of the task.</param>
/// <param name="Night">Id of the night by whose closes it must end.</param>
public sealed record DueMoved(string Task, string Night) : WeekChange
{
    /// <summary>The value of "kind" in JSON.</summary>
    public const string KindName = "due";

    /// <inheritdoc/>
    public override string Kind => KindName;

    /// <inheritdoc/>
    public override Week Apply(Week week) => week with
    {
        Tasks = [.. week.Tasks.Select(task => task.Id == Task ? task with { Due = Night } : task)],
    };

    /// <inheritdoc/>
    public override string Sentence(Week week) =>
        $"{WeekPhrases.Task(week, Task)} is due by the end of {WeekPhrases.Night(week, Night)}.";

    internal static WeekChange Read(JsonFields at) => new DueMoved(at.Id("task"), at.Id("night"));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("task", Task);
        json.Text("night", Night);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) =>
        [known.Tasks.UnknownIdFault("/task", Task), known.Nights.UnknownIdFault("/night", Night)];
}
