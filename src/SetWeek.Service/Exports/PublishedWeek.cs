using Marten;
using OneOf;
using SetWeek.Domain.Hours;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Exports;

/// <summary>What exports are made of.</summary>
/// <param name="Week">The week with its crew, for the names.</param>
internal sealed record PublishedWeek(Week Week, Plan Plan, IReadOnlyList<PersonHours> Hours)
{
    public static async Task<OneOf<PublishedWeek, Answer>> Read(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Published is not { Plan: var plan })
            return Refused.With(404, "No plan of this week is published yet.", "nothing-published");
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        return new PublishedWeek(PlanningProblem.WeekOf(week, crew), plan, PersonHours.Of(week, plan));
    }
}
