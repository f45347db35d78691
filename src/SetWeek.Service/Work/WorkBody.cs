using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Work;

/// <summary>The body of a report that work has started or finished: a stint of a task, or the clean-down of a zone.</summary>
/// <param name="People">The people who did it; null: those of the published plan.</param>
/// <param name="Corrects">The report that this one replaces.</param>
public sealed record WorkBody(
    string Id, string? Task, int? Stint, string? CleanDown, string Night, OffsetDateTime At, IReadOnlyList<string>? People,
    string? Corrects)
{
    public const string Example = """
        {"id": "phone-3.18", "task": "canopy.hang", "stint": 1, "night": "night-1", "at": "2027-03-08T21:50:00+00:00",
         "people": ["c1", "c3"]}
        """;

    public static WorkBody Read(JsonFields json)
    {
        var body = new WorkBody(json.Id("id"), json.OptionalId("task"), json.OptionalInt("stint", 1, WeekLimits.Stints),
            json.OptionalId("cleanDown"), json.Id("night"), json.Time("at"), ReadPeople(json), json.OptionalId("corrects"));
        if (json.Has("task") == json.Has("cleanDown")) json.AddFault("Give either task or cleanDown.");
        if (json.Has("stint") && json.Has("cleanDown")) json.AddFault("stint", "A clean-down has no stints; remove this field.");
        return body;
    }

    /// <summary>The people who did the work; null if they are not said.</summary>
    public static IReadOnlyList<string>? ReadPeople(JsonFields json)
    {
        var people = json.Optional("people")?.List(person => person.Id(), WeekLimits.People, least: 1);
        foreach (var person in people?.GroupBy(person => person).Where(same => same.Key.Length > 0 && same.Count() > 1) ?? [])
            json.AddFault("people", $"{person.Key} is named {person.Count()} times; keep one.");
        return people;
    }

    public IWorkReport Started(ReportTime time) => Task is { } task
        ? new WorkStarted(Id, task, Stint ?? 1, Night, time.At, People, time.Clock, Corrects)
        : new CleanDownStarted(Id, CleanDown!, Night, time.At, People, time.Clock, Corrects);

    public IWorkReport Finished(ReportTime time) => Task is { } task
        ? new WorkFinished(Id, task, Stint ?? 1, Night, time.At, People, time.Clock, Corrects)
        : new CleanDownFinished(Id, CleanDown!, Night, time.At, People, time.Clock, Corrects);
}
