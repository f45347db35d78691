using Marten;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Idempotency;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Http.Reports;

/// <summary>
/// Commits groups of reports of one chain, each in one transaction, and completes their answers. A group is first decided on the
/// states that this node knows. After a conflict it is decided again on fresh states with the streams locked. If the group fails
/// for another reason, each submission is committed alone, so that one cannot spoil the others. A submission for whose key or
/// week another transaction holds a lock waits for it outside the lane.
/// </summary>
internal sealed class ReportGroups(IDocumentStore store, string tenant)
{
    private const int AttemptsAlone = 10;

    /// <summary>How long a lane waits for a lock.</summary>
    private static readonly TimeSpan LaneWait = TimeSpan.FromSeconds(1);

    private enum Outcome { Answered, TryAgain, LockIsHeld }

    /// <summary>Every submission has an answer or its exception afterwards.</summary>
    public async Task Commit(IReadOnlyList<Submission> group)
    {
        // A key that occurs twice gets its second answer from the record of the first, in a group of its own.
        for (var waiting = group.ToList(); waiting.Count > 0;)
        {
            var first = waiting.Where(one => one.Key is null)
                .Concat(waiting.Where(one => one.Key is not null).DistinctBy(one => (one.Request.Caller.Person, one.Key)))
                .ToHashSet();
            await CommitDistinct([.. waiting.Where(first.Contains)]);
            waiting.RemoveAll(first.Contains);
        }
    }

    private async Task CommitDistinct(IReadOnlyList<Submission> group)
    {
        var outcome = await TryCommit(group, locked: false);
        if (outcome == Outcome.TryAgain) outcome = await TryCommit(group, locked: true);
        if (outcome == Outcome.Answered) return;
        var held = new Dictionary<string, List<Submission>>();
        foreach (var one in group)
            if (held.TryGetValue(one.Week, out var behind)) behind.Add(one);
            else if ((group.Count == 1 && outcome == Outcome.LockIsHeld) || !await CommitAlone(one)) held[one.Week] = [one];
        foreach (var week in held.Values) _ = Task.Run(() => CommitOutsideLane(week));
    }

    /// <returns>False if another transaction holds a lock; the submission has no answer then.</returns>
    private async Task<bool> CommitAlone(Submission one, bool inLane = true)
    {
        for (var attempt = 1; attempt <= AttemptsAlone; attempt++)
            if (await TryCommit([one], locked: true, inLane) is var outcome and not Outcome.TryAgain)
                return outcome == Outcome.Answered;
        one.Complete(Busy);
        return true;
    }

    /// <summary>One after another, so that a week that is held for long takes one connection to the database.</summary>
    private async Task CommitOutsideLane(IReadOnlyList<Submission> week)
    {
        var isHeld = false;
        foreach (var one in week)
        {
            isHeld = isHeld || !await CommitAlone(one, inLane: false);
            if (isHeld) one.Complete(Busy);
        }
    }

    private static Answer Busy =>
        Refused.With(503, "Too many other requests are changing the same data at the moment. Try again.");

    private async Task<Outcome> TryCommit(IReadOnlyList<Submission> group, bool locked, bool inLane = true)
    {
        try
        {
            foreach (var (submission, answer) in await CommitOnce(group, locked, inLane)) submission.Complete(answer);
            return Outcome.Answered;
        }
        catch (Exception error) when (DatabaseErrors.IsLockTimeout(error))
        {
            return Outcome.LockIsHeld;
        }
        catch (Exception error) when (DatabaseErrors.IsConflict(error) || group.Count > 1 && !DatabaseErrors.IsOutage(error))
        {
            return Outcome.TryAgain;
        }
        catch (Exception error)
        {
            foreach (var one in group) one.Fail(error);
            return Outcome.Answered;
        }
    }

    /// <summary>
    /// Locks are taken in a fixed order, keys before streams and each by its name, so that two nodes cannot wait for each other.
    /// </summary>
    private async Task<IReadOnlyList<(Submission, Answer)>> CommitOnce(
        IReadOnlyList<Submission> group, bool locked, bool inLane)
    {
        await using var session = store.LightweightSession(tenant);
        var keyed = group.Where(one => one.Key is not null).ToList();
        if (keyed.Count > 0 || locked) await session.BeginTransactionAsync(CancellationToken.None);
        var repeated = await Repeated(session, keyed, inLane);
        var open = group.Where(one => one.Key is null || !repeated.ContainsKey(one.Request)).ToList();
        if (open.Count == 0) return [.. keyed.Select(one => (one, repeated[one.Request]))];
        var weeks = open.GroupBy(one => one.Week).OrderBy(week => week.Key, StringComparer.Ordinal).ToList();
        var wait = inLane ? LaneWait : IdempotencyRecords.LongestWait;
        if (locked) await Streams.LockWeeks(session, [.. weeks.Select(week => week.Key)], wait);

        var decided = new List<WeekReports>();
        foreach (var week in weeks) decided.Add(await Decide(session, week.Key, [.. week], locked));
        foreach (var week in decided) Append(session, week);
        foreach (var (submission, answer) in decided.SelectMany(week => week.Answers))
            if (submission.Key is { } key) IdempotencyRecords.Settle(session, submission.Request, key, answer);
        await session.SaveChangesAsync(CancellationToken.None);

        foreach (var week in decided.Where(week => week.Events.Count > 0)) Streams.Keep(session, week.After);
        return
        [
            .. decided.SelectMany(week => week.Answers),
            .. keyed.Where(one => repeated.ContainsKey(one.Request)).Select(one => (one, repeated[one.Request])),
        ];
    }

    /// <summary>
    /// Claims the keys. In the lane, the wait is short and independent of any caller, because the others wait too. Outside, a
    /// submission waits as any request does.
    /// </summary>
    private static async Task<IReadOnlyDictionary<Request, Answer>> Repeated(
        IDocumentSession session, IReadOnlyList<Submission> keyed, bool inLane)
    {
        if (inLane || keyed is not [var alone])
            return await IdempotencyRecords.Claim(
                session, [.. keyed.Select(one => (one.Request, one.Key!))], LaneWait, CancellationToken.None);
        return await IdempotencyRecords.Claim(session, alone.Request, alone.Key!) is { } answer
            ? new Dictionary<Request, Answer> { [alone.Request] = answer } : new Dictionary<Request, Answer>();
    }

    /// <summary>A refusal commits nothing that could fail, so it is said only after a read.</summary>
    private static async Task<WeekReports> Decide(
        IDocumentSession session, string week, IReadOnlyList<Submission> submissions, bool locked)
    {
        return !locked && Streams.KnownWeek(session, week) is { } known && await On(known) is { HasRefusal: false } accepted
            ? accepted : await On(await Streams.Week(session, week, CancellationToken.None));

        // Who entered what is read after the week, so that it is known of every report that the week has.
        async Task<WeekReports> On(FoldedStream<StoreWeek> before) => WeekReports.Decide(before, submissions,
            submissions.SelectMany(one => one.Batch.Items).Where(item => item.IsT0).Select(item => item.AsT0.AsksAbout)
                .OfType<string>().Distinct().ToList() is { Count: > 0 } asked
                ? await Streams.WhoEntered(session, week, asked) : new Dictionary<string, string>());
    }

    private static void Append(IDocumentSession session, WeekReports week)
    {
        if (week.Events.Count == 0) return;
        week.Before.Append(session, [.. week.Events.Select(e => session.EventOf(e.Event, e.Submission.Request.Caller.Person,
            e.Submission.Cause, e.Submission.Trace, e.Report.HappenedAt))]);
        session.Store<Note>([.. week.Notes]);
    }
}
