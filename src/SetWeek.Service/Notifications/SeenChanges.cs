using Marten;
using SetWeek.Domain.Notifications;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Notifications;

/// <summary>Records that somebody has opened what the published plan changes for them.</summary>
internal static class SeenChanges
{
    private const int MaxAttempts = 3;

    /// <summary>
    /// Records it once, in a session of its own: whoever reads decides nothing, so a lost race only leaves it to the next time.
    /// </summary>
    /// <param name="stream">The week that is shown.</param>
    /// <returns>The week after that.</returns>
    public static async Task<FoldedStream<StoreWeek>> RecordSeen(
        this Request request, IQuerySession session, FoldedStream<StoreWeek> stream)
    {
        if (request.Caller.Role is not (Role.Crew or Role.Lead)) return stream;
        for (var attempt = 0; attempt < MaxAttempts; attempt++)
        {
            if (stream.State!.See(request.Caller.Person, request.Now) is not { } seen) return stream;
            try
            {
                await using var write = session.DocumentStore.LightweightSession(request.Caller.Tenant);
                write.LastModifiedBy = request.Caller.Person;
                write.CausationId = "seen";
                write.HappenedAt(request.Now);
                var version = stream.Append(write, seen);
                // From here on a caller that disconnects must not interrupt the commit.
                await write.SaveChangesAsync(CancellationToken.None);
                return new FoldedStream<StoreWeek>(stream.Id, StoreWeek.Evolve(stream.State, seen), version);
            }
            catch (Exception error) when (DatabaseErrors.IsConflict(error))
            {
                stream = await Streams.Week(session, request.Id, request.Cancelled);
            }
        }
        return stream;
    }
}
