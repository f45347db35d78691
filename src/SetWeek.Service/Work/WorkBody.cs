using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Work;

/// <summary>The body of a report that work has started: a stint of a task, or the clean-down of a zone.</summary>
/// <param name="People">The people who do it; null: those of the published plan.</param>
/// <param name="Gates">The answers to the gates, signed by whoever sends the report.</param>
/// <param name="Corrects">The report that this one replaces.</param>
public sealed record StartBody(
    string Id, string? Task, int? Stint, string? CleanDown, string Night, OffsetDateTime At, IReadOnlyList<string>? People,
    IReadOnlyList<StartBody.GateBody>? Gates, string? Corrects)
{
    /// <param name="Why">Why the gate does not apply; required then.</param>
    public sealed record GateBody(string Gate, CheckResult Result, string? Why);

    public const string Example = """
        {"id": "phone-3.18", "task": "canopy.hang", "stint": 1, "night": "night-1", "at": "2027-03-08T21:50:00+00:00",
         "people": ["c1", "c3"], "gates": [{"gate": "ladder-tag", "result": "good"}]}
        """;

    /// <summary>The reasons of the answers, to be stored beside the event.</summary>
    public string? Note => WorkBody.NoteOf((Gates ?? []).Select(gate => (gate.Gate, gate.Why)));

    public static StartBody Read(JsonFields json)
    {
        var body = new StartBody(json.Id("id"), json.OptionalId("task"), json.OptionalInt("stint", 1, WeekLimits.Stints),
            json.OptionalId("cleanDown"), json.Id("night"), json.Time("at"), WorkBody.ReadPeople(json), ReadGates(json),
            json.OptionalId("corrects"));
        WorkBody.CheckSubject(json);
        return body;
    }

    public IWorkReport Started(ReportTime time, string by) => Task is { } task
        ? new WorkStarted(Id, task, Stint ?? 1, Night, time.At, People, time.Clock, Corrects, by,
            Gates?.Select(gate => new GateAnswer(gate.Gate, gate.Result)).ToList())
        : new CleanDownStarted(Id, CleanDown!, Night, time.At, People, time.Clock, Corrects, by);

    private static IReadOnlyList<GateBody>? ReadGates(JsonFields json) => WorkBody.ReadAnswers(json, "gates",
        answer =>
        {
            var (result, why) = WorkBody.ReadResult(answer);
            return new GateBody(answer.Id("gate"), result, why);
        }, gate => gate.Gate);
}

/// <summary>The body of a report that work has finished: a stint of a task, or the clean-down of a zone.</summary>
/// <param name="People">The people who did it; null: those of the published plan.</param>
/// <param name="Checks">
/// The answers to the checks, signed by whoever sends the report. With one that is not good, it is not done.
/// </param>
/// <param name="Air">What thermometer and hygrometer show, where paint dries.</param>
/// <param name="RemainingMinutes">What putting it right takes, if a check is not good.</param>
/// <param name="Photos">Photographs of what was looked at; for a task alone.</param>
/// <param name="Corrects">The report that this one replaces.</param>
public sealed record FinishBody(
    string Id, string? Task, int? Stint, string? CleanDown, string Night, OffsetDateTime At, IReadOnlyList<string>? People,
    IReadOnlyList<FinishBody.CheckBody>? Checks, AirReading? Air, int? RemainingMinutes, IReadOnlyList<string>? Photos,
    string? Corrects)
{
    /// <param name="Why">Why the check does not apply; required then.</param>
    public sealed record CheckBody(string Check, CheckResult Result, string? Why);

    public const string Example = """
        {"id": "phone-3.20", "task": "wall.coat", "stint": 1, "night": "night-1", "at": "2027-03-08T23:28:00+00:00",
         "people": ["c1", "c3"], "checks": [{"check": "No bare spot.", "result": "good"},
           {"check": "Batch number on the sheet.", "result": "doesNotApply", "why": "One tin only."}],
         "air": {"degreesCelsius": 19, "moisturePercent": 55}, "photos": ["phone-3.p7"]}
        """;

    /// <summary>The reasons of the answers, to be stored beside the event.</summary>
    public string? Note => WorkBody.NoteOf((Checks ?? []).Select(check => (check.Check, check.Why)));

    public static FinishBody Read(JsonFields json)
    {
        var body = new FinishBody(json.Id("id"), json.OptionalId("task"), json.OptionalInt("stint", 1, WeekLimits.Stints),
            json.OptionalId("cleanDown"), json.Id("night"), json.Time("at"), WorkBody.ReadPeople(json), ReadChecks(json),
            json.OptionalObject("air", ReadAir), json.OptionalInt("remainingMinutes", 1, WeekLimits.Minutes),
            PhotoIds.Read(json), json.OptionalId("corrects"));
        WorkBody.CheckSubject(json);
        if (json.Has("remainingMinutes") && body.Checks?.Any(check => check.Result == CheckResult.NotGood) is not true)
            json.AddFault("remainingMinutes", "All checks are good, so nothing remains; remove this field.");
        foreach (var name in (string[])["checks", "air", "photos"])
            if (json.Has(name) && json.Has("cleanDown")) json.AddFault(name, "A clean-down has none; remove this field.");
        return body;
    }

    public IWorkReport Finished(ReportTime time, string by) => Task is { } task
        ? AnswerDecisions.Finishing(new WorkFinished(Id, task, Stint ?? 1, Night, time.At, People, time.Clock, Corrects, by,
            Checks?.Select(check => new CheckAnswer(check.Check, check.Result)).ToList(), Air, Photos), RemainingMinutes)
        : new CleanDownFinished(Id, CleanDown!, Night, time.At, People, time.Clock, Corrects, by);

    private static IReadOnlyList<CheckBody>? ReadChecks(JsonFields json) => WorkBody.ReadAnswers(json, "checks",
        answer =>
        {
            var (result, why) = WorkBody.ReadResult(answer);
            return new CheckBody(answer.Text("check", WorkBody.LongestText), result, why);
        }, check => check.Check);

    private static AirReading ReadAir(JsonFields json) =>
        new(json.Int("degreesCelsius", -40, 60), json.Int("moisturePercent", 0, 100));
}

/// <summary>What the bodies of a start and of a finish have in common.</summary>
internal static class WorkBody
{
    public const int LongestText = 2000;
    private const int MostAnswers = 100;

    public static void CheckSubject(JsonFields json)
    {
        if (json.Has("task") == json.Has("cleanDown")) json.AddFault("Give either task or cleanDown.");
        if (json.Has("stint") && json.Has("cleanDown")) json.AddFault("stint", "A clean-down has no stints; remove this field.");
        if (json.Has("gates") && json.Has("cleanDown")) json.AddFault("gates", "A clean-down has none; remove this field.");
    }

    /// <summary>The people who did the work; null if they are not said.</summary>
    public static IReadOnlyList<string>? ReadPeople(JsonFields json)
    {
        var people = json.Optional("people")?.List(person => person.Id(), WeekLimits.People, least: 1);
        foreach (var person in people?.GroupBy(person => person).Where(same => same.Key.Length > 0 && same.Count() > 1) ?? [])
            json.AddFault("people", $"{person.Key} is named {person.Count()} times; keep one.");
        return people;
    }

    /// <summary>The answers; null if none are given.</summary>
    public static IReadOnlyList<T>? ReadAnswers<T>(
        JsonFields json, string name, Func<JsonFields, T> read, Func<T, string> subject) where T : class
    {
        var answers = json.Optional(name)?.List(answer => answer.Object(read), MostAnswers);
        foreach (var same in answers?.GroupBy(subject).Where(same => same.Key.Length > 0 && same.Count() > 1) ?? [])
            json.AddFault(name, $"\"{same.Key}\" is answered {same.Count()} times; keep one.");
        return answers;
    }

    public static (CheckResult Result, string? Why) ReadResult(JsonFields answer)
    {
        var (result, why) = (answer.Choice<CheckResult>("result"), answer.OptionalText("why", longest: LongestText));
        if (result == CheckResult.DoesNotApply && why is null) answer.AddFault("why", "Say why it does not apply.");
        return (result, why);
    }

    public static string? NoteOf(IEnumerable<(string Subject, string? Why)> answers)
    {
        var said = answers.Where(answer => answer.Why is not null).Select(answer => $"{answer.Subject}: {answer.Why}").ToList();
        return said.Count > 0 ? string.Join("\n", said) : null;
    }
}
