using Marten;
using OneOf;
using SetWeek.Domain;
using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Revisions;

/// <summary>Runs the decision that changes an open week (<see cref="RevisionDecisions"/>) for the slices that edit one.</summary>
public static class RevisionAnswers
{
    /// <summary>
    /// Edits one thing. Without a difference nothing is stored, so that a repeated request is answered as the first.
    /// </summary>
    /// <param name="edit">The wanted week, made from the one that the planner reads; or why it cannot be made.</param>
    /// <param name="faults">The answer to an invalid week; the pointers are into the wanted week.</param>
    public static Task<Answer> Edit(this Request request, IDocumentSession session, Func<Week, OneOf<Week, Answer>> edit,
        Func<Week, FaultReport, Answer> faults) =>
        request.Edit(session, (week, crew) => edit(PlanningProblem.WeekOf(week, crew)), faults,
            (_, _) => Answer.NoContent);

    /// <param name="reply">The answer, from the week after the decision.</param>
    public static async Task<Answer> Edit(this Request request, IDocumentSession session,
        Func<StoreWeek, CrewFile, OneOf<Week, Answer>> edit, Func<Week, FaultReport, Answer> faults,
        Func<StoreWeek, WeekRevision, Answer> reply)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        if (edit(week, crew).TryPickT1(out var refused, out var wanted)) return refused;
        return week.Revise(crew, wanted, StoreTime.Local(week, request.Now), request.Caller.Person).Match(
            revision => request.Append(session, stream, revision).Match(
                version => reply(After(week, revision), revision).WithVersion(version), answer => answer),
            Refused.For,
            invalid => faults(wanted, invalid));
    }

    /// <summary>
    /// Appends the events of a revision and stores the crew. If the week is as wanted already, an old If-Match does no harm (RFC
    /// 9110, section 13.1.1): the request was probably sent again.
    /// </summary>
    /// <returns>The version after the commit, or a refusal.</returns>
    public static OneOf<long, Answer> Append(
        this Request request, IDocumentSession session, FoldedStream<StoreWeek> stream, WeekRevision revision)
    {
        if (revision.Events.Count == 0) return stream.Version;
        if (!stream.IsCurrent(request.Version)) return Refused.Stale(stream.Version);
        if (revision.ConcernsCrew && request.Caller.Role != Role.Lead)
            return Refused.With(403, "Only a lead changes the crew of a week.", "other-role");
        if (revision.ChangesCrewFile) session.Store(revision.Crew);
        var change = session.PlanChange(After(stream.State!, revision), revision.Crew, revision.Events);
        return stream.Append(session, change is null ? revision.Events : [.. revision.Events, change]);
    }

    /// <summary>The week with the events of a revision.</summary>
    public static StoreWeek After(StoreWeek week, WeekRevision revision) =>
        revision.Events.Aggregate(week, (state, e) => StoreWeek.Evolve(state, e)!);

    /// <summary>
    /// The faults of a week in which one part comes from the body. Others are told as faults of the whole body.
    /// </summary>
    /// <param name="part">The pointer of the part in the week, and where the body has it.</param>
    public static Answer Faults(FaultReport faults, params (string Part, string Sent)[] part) => Refused.For(new FaultReport(
        [.. faults.All.Select(fault =>
            part.FirstOrDefault(known => IsIn(fault.Pointer, known.Part)) is { Part: { } at, Sent: var sent }
            ? fault with { Pointer = sent + fault.Pointer[at.Length..] }
            : OfBody(fault))]), 422);

    /// <summary>A fault of the resulting week as one of the whole body.</summary>
    public static Fault OfBody(Fault fault) => new("", InResultingWeek(fault));

    /// <summary>The faults of a week without what is to be dropped: something else still refers to it.</summary>
    public static Answer StillNeeded(Week wanted, FaultReport faults) => Refused.For(
        new Refusal("still-needed", "The week would not be valid without it, so nothing was changed.")
        {
            Because = [.. faults.All.Select(InResultingWeek)],
        });

    /// <summary>The pointer of an element in a list of the week.</summary>
    public static string PointerOf<T>(string list, IEnumerable<T> items, Func<T, bool> isIt) =>
        $"{list}/{items.TakeWhile(item => !isIt(item)).Count()}";

    private static string InResultingWeek(Fault fault) => $"{fault.Detail} (At {fault.Pointer} of the resulting week.)";

    private static bool IsIn(string pointer, string part) =>
        pointer == part || pointer.StartsWith($"{part}/", StringComparison.Ordinal);
}
