using Marten;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Lists;

/// <summary>The weeks of one store, which are few.</summary>
public static class StoreWeeks
{
    private const int InOneRead = 100;

    /// <returns>Their ids, each with the present version of its stream, in the order of the ids.</returns>
    public static async Task<IReadOnlyList<(string Id, long Version)>> Of(
        IQuerySession session, string store, CancellationToken cancelled)
    {
        var found = new List<(string Id, long Version)>();
        for (var from = ""; ;)
        {
            var weeks = await StreamList.Weeks(session, [store], from, InOneRead, cancelled);
            found.AddRange(weeks.Where(week => week.Id != from));
            if (weeks.Count < InOneRead) return found;
            from = weeks[^1].Id;
        }
    }
}
