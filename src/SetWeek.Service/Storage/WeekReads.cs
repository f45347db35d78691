using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;

namespace SetWeek.Service.Storage;

/// <summary>What is read beside a week's own events.</summary>
public static class WeekReads
{
    /// <summary>Names, rates and hours of the crew; empty where none are stored.</summary>
    public static async Task<CrewFile> CrewOf(this IQuerySession session, string week, CancellationToken cancelled) =>
        await session.LoadAsync<CrewFile>(week, cancelled) ?? new CrewFile(week, []);

    /// <summary>What people call the week: the direction and the store by their names of today.</summary>
    public static async Task<string> TitleOf(this IQuerySession session, StoreWeek week, CancellationToken cancelled)
    {
        var direction = await Streams.Direction(session, week.Direction, cancelled);
        var store = await Streams.Store(session, week.Week.Store.Id, cancelled);
        return $"{direction.State?.Name ?? week.Direction}, {store.State?.Name ?? week.Week.Store.Id}";
    }
}
