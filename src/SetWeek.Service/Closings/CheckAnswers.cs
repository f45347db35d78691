using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Model.Json;

namespace SetWeek.Service.Closings;

/// <summary>Reads answers to checks: good, not good or does not apply, the last two with a reason.</summary>
internal static class CheckAnswers
{
    private const int MostChecks = 300, MostMillimetres = 100_000, LongestReason = 500;

    /// <param name="Why">Needed unless the answer is good.</param>
    public sealed record Given(string Check, CheckResult Answer, int? Millimetres, string? Why)
    {
        public AnsweredCheck Answered => new(Check, Answer, Millimetres);
    }

    public static IReadOnlyList<Given> Read(JsonFields json, string name)
    {
        var answers = json.List(name, answer => answer.Object(ReadOne), MostChecks, least: 1);
        foreach (var check in answers.GroupBy(answer => answer.Check).Where(check => check.Key.Length > 0 && check.Count() > 1))
            json.AddFault(name, $"{check.Key} is answered {check.Count()} times; give one answer.");
        return answers;
    }

    /// <summary>The reasons as notes.</summary>
    public static IReadOnlyList<Note> ReasonsOf(string week, string report, IReadOnlyList<Given> answers) =>
        [.. answers.Where(answer => answer.Why is not null)
            .Select(answer => new Note(ReasonNotes.ReasonIdOf(week, report, answer.Check), answer.Why!))];

    private static Given ReadOne(JsonFields json)
    {
        var given = new Given(json.Id("check"), json.Choice<CheckResult>("answer"),
            json.OptionalInt("millimetres", 0, MostMillimetres), json.OptionalText("why", LongestReason));
        if (given is { Answer: not CheckResult.Good, Why: null })
            json.AddFault("why", "Say in words what is not good, or why the check does not apply here.");
        return given;
    }
}
