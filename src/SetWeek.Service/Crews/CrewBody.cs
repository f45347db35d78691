using Marten;
using OneOf;
using SetWeek.Domain;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Http.Answers;
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
    /// one, or if the week with that member would be invalid.
    /// </summary>
    public static Answer Keep<T>(
        IDocumentSession session, FoldedStream<StoreWeek> stream, CrewFile crew, CrewMember member, OneOf<T, Refusal> decided)
        where T : IWeekEvent =>
        decided.Match(
            decision => InWeek(stream.State!, crew, member).Match(
                next =>
                {
                    session.Store(next);
                    return Answer.NoContent.WithVersion(stream.Append(session,
                        PlanHealth.Change(StoreWeek.Evolve(stream.State, decision)!, next, [decision]) is { } change
                            ? [decision, change] : [decision]));
                },
                faults => Refused.For(faults, 422)),
            Refused.For);

    /// <summary>The crew with that member; or the faults of the resulting week, with pointers into the member.</summary>
    private static OneOf<CrewFile, FaultReport> InWeek(StoreWeek week, CrewFile crew, CrewMember member)
    {
        var next = crew.With(member);
        var prefix = $"/crew/{next.Members.Index().First(known => known.Item.Id == member.Id).Index}";
        return WeekFile.Check(week.Week with { Crew = next.Members }).Match<OneOf<CrewFile, FaultReport>>(
            _ => next,
            faults => new FaultReport([.. faults.All.Select(fault => AsSent(fault, prefix))]));
    }

    private static Fault AsSent(Fault fault, string prefix) =>
        fault.Pointer.StartsWith(prefix, StringComparison.Ordinal) ? fault with { Pointer = fault.Pointer[prefix.Length..] }
            : new Fault("", $"{fault.Detail} (At {fault.Pointer} of the resulting week.)");
}
