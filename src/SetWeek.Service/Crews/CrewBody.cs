using Marten;
using OneOf;
using SetWeek.Domain;
using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Revisions;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Crews;

/// <summary>The body that describes a crew member, as in a week file.</summary>
public static class CrewBody
{
    public const string Example = """
        {"id": "c3", "name": "Cleo Strand", "skills": {"dressing": 2}, "ratePerHour": 1300,
         "available": [{"night": "night-1", "to": "2027-03-09T01:00"}],
         "commitments": [{"from": "2027-03-08T12:00", "to": "2027-03-08T17:00"}]}
        """;

    /// <summary>
    /// Stores a member who joins or is changed, and appends the event of the decision. The answer is a refusal if the decision is
    /// one, or if the week with that member would have a fault that it does not have now.
    /// </summary>
    public static Answer Append<T>(
        IDocumentSession session, FoldedStream<StoreWeek> stream, CrewFile crew, CrewMember member, OneOf<T, Refusal> decided)
        where T : IWeekEvent =>
        decided.Match(
            decision =>
            {
                var (week, next) = (StoreWeek.Evolve(stream.State, decision)!, crew.With(member));
                var wanted = WithoutAbsences(week, next);
                if (RevisionDecisions.NewFaults(WithoutAbsences(stream.State!, crew), wanted) is { Count: > 0 } faults)
                    return RevisionAnswers.Faults(new FaultReport(faults),
                        (RevisionAnswers.PointerOf("/crew", wanted.Crew, known => known.Id == member.Id), ""));
                session.Store(next);
                return Answer.NoContent.WithVersion(stream.Append(session,
                    session.PlanChange(week, next, [decision]) is { } change ? [decision, change] : [decision]));
            },
            Refused.For);

    /// <summary>The week as the planner reads it, with the hours that absences hide: those are checked too.</summary>
    private static Week WithoutAbsences(StoreWeek week, CrewFile crew) =>
        PlanningProblem.WeekOf(week with { Absences = [] }, crew);
}
