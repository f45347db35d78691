using SetWeek.Domain.Weeks;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Work;

/// <summary>What every report on a stint of a task has in common.</summary>
/// <param name="Corrects">The report that this one replaces.</param>
internal sealed record StintReport(string Id, string Task, int Stint, ReportTime Time, string? Corrects)
{
    public static StintReport Read(JsonFields json, Request request) => new(json.Id("id"), json.Id("task"),
        json.OptionalInt("stint", 1, WeekLimits.Stints) ?? 1, request.TimeOf(json.Time("at")), json.OptionalId("corrects"));
}
