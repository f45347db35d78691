using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A task that is due by another night.</summary>
public sealed record DueMoved(string Task, string Night) : WeekChange
{
    public const string KindName = "due";

    public override string Kind => KindName;

    public override Week Apply(Week week) => week with
    {
        Tasks = [.. week.Tasks.Select(task => task.Id == Task ? task with { Due = Night } : task)],
    };

    public override string Sentence(Week week) =>
        $"{WeekPhrases.Task(week, Task)} is done by the end of {WeekPhrases.Night(week, Night)}.";

    internal static WeekChange Read(JsonFields at) => new DueMoved(at.Id("task"), at.Id("night"));

    internal override void Write(Utf8JsonWriter json)
    {
        json.Text("task", Task);
        json.Text("night", Night);
    }

    internal override IEnumerable<Fault?> Faults(WeekIds known) =>
        [known.Tasks.UnknownIdFault("/task", Task), known.Nights.UnknownIdFault("/night", Night)];
}
