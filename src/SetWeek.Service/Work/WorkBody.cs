using NodaTime;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Work;

/// <summary>The body of a report that work has started or finished: a stint of a task, or the clean-down of a zone.</summary>
public sealed record WorkBody(string Id, string? Task, int? Stint, string? CleanDown, string Night, OffsetDateTime At)
{
    public const string Example = """
        {"id": "phone-3.18", "task": "canopy.hang", "stint": 1, "night": "night-1", "at": "2027-03-08T21:50:00+00:00"}
        """;

    public static WorkBody Read(JsonFields json)
    {
        var body = new WorkBody(json.Id("id"), json.OptionalId("task"), json.OptionalInt("stint", 1, WeekLimits.Stints),
            json.OptionalId("cleanDown"), json.Id("night"), json.Time("at"));
        if (json.Has("task") == json.Has("cleanDown")) json.AddFault("Give either task or cleanDown.");
        if (json.Has("stint") && json.Has("cleanDown")) json.AddFault("stint", "A clean-down has no stints; remove this field.");
        return body;
    }

    public IWorkReport Started() => Task is { } task
        ? new WorkStarted(Id, task, Stint ?? 1, Night, At)
        : new CleanDownStarted(Id, CleanDown!, Night, At);

    public IWorkReport Finished() => Task is { } task
        ? new WorkFinished(Id, task, Stint ?? 1, Night, At)
        : new CleanDownFinished(Id, CleanDown!, Night, At);
}
