using System.Collections.Concurrent;
using Marten;
using SetWeek.Service.Http.Answers;

namespace SetWeek.Service.Http.Reports;

/// <summary>
/// Takes the reports from the floor. Each chain has a lane. What arrives in it while a group is being committed forms the next
/// group, over many weeks, in one transaction. So nobody waits for a group to fill, and a chain with many reports needs few
/// commits (docs/decisions/report-groups.md).
/// </summary>
/// <param name="capacity">Most reports that wait in a lane.</param>
public sealed class ReportDesk(IDocumentStore store, int capacity)
{
    public const int DefaultCapacity = 2000;

    /// <summary>It bounds the length of a transaction.</summary>
    private const int MostInGroup = 256;

    private readonly ConcurrentDictionary<string, Lane> lanes = new();

    private sealed class Lane
    {
        public readonly Lock Gate = new();
        public readonly Queue<Submission> Waiting = [];
        public int Reports;
        public bool IsServed;
    }

    /// <returns>The answer after the commit; or a refusal if too many wait.</returns>
    public Task<Answer> Take(Submission submission)
    {
        var tenant = submission.Request.Caller.Tenant;
        var lane = lanes.GetOrAdd(tenant, _ => new Lane());
        lock (lane.Gate)
        {
            if (lane.Reports + submission.Batch.Items.Count > capacity && lane.Reports > 0) return Task.FromResult(Full);
            lane.Reports += submission.Batch.Items.Count;
            lane.Waiting.Enqueue(submission);
            if (lane.IsServed) return submission.Answer;
            lane.IsServed = true;
        }
        _ = Task.Run(() => Serve(lane, new ReportGroups(store, tenant)));
        return submission.Answer;
    }

    private static async Task Serve(Lane lane, ReportGroups groups)
    {
        while (Next(lane) is { Count: > 0 } group)
        {
            try
            {
                await groups.Commit(group);
            }
            catch (Exception error)
            {
                // Whatever it is, the lane must go on.
                foreach (var one in group) one.Fail(error);
            }
        }
    }

    /// <summary>What waits now, up to the size of a group. Empty if nothing does; the lane is then served no longer.</summary>
    private static List<Submission> Next(Lane lane)
    {
        List<Submission> group = [];
        lock (lane.Gate)
        {
            for (var reports = 0; reports < MostInGroup && lane.Waiting.TryDequeue(out var next);)
            {
                group.Add(next);
                reports += next.Batch.Items.Count;
                lane.Reports -= next.Batch.Items.Count;
            }
            lane.IsServed = group.Count > 0;
        }
        return group;
    }

    private static Answer Full =>
        Refused.With(503, "Too many reports are waiting at the moment. Send it again.", "busy")
            with { RetryAfter = TimeSpan.FromSeconds(1) };
}
