using Marten;
using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Storage;

namespace SetWeek.Service.SignIn;

/// <summary>
/// The night in which a store's phone signs people in: from an hour before it opens until an hour after it closes.
/// </summary>
/// <param name="People">The crew that is not absent, with names.</param>
internal sealed record OpenNight(string Week, string Night, Instant Until, IReadOnlyList<OpenNight.Member> People)
{
    private static readonly Duration Margin = Duration.FromHours(1);

    /// <summary>A person as colleagues see them: without age, pay or reason of absence.</summary>
    public sealed record Member(string Id, string Name);

    /// <returns>Null if no night of the store is open.</returns>
    public static async Task<OpenNight?> Of(IQuerySession session, string store, Instant now, CancellationToken cancelled)
    {
        for (var from = ""; ;)
        {
            var weeks = await StreamList.Weeks(session, [store], from, 50, cancelled);
            foreach (var (id, _) in weeks)
                if ((await Streams.Week(session, id, cancelled)).State is { } week && NightOf(week, now) is { } night)
                {
                    var crew = await session.CrewOf(id, cancelled);
                    return new OpenNight(id, night.Id, night.Until,
                        [.. crew.Members.Where(member =>
                            week.Crew.Contains(member.Id) && !week.Absences.Contains((member.Id, night.Id)))
                            .OrderBy(member => member.Name, StringComparer.Ordinal)
                            .Select(member => new Member(member.Id, member.Name))]);
                }
            if (weeks.Count < 50) return null;
            from = weeks[^1].Id;
        }
    }

    private static (string Id, Instant Until)? NightOf(StoreWeek week, Instant now) => week.Week.Nights
        .Where(night => StoreTime.InstantOf(week, night.Opens) - Margin <= now
            && now < StoreTime.InstantOf(week, night.Closes) + Margin)
        .Select(night => ((string, Instant)?)(night.Id, StoreTime.InstantOf(week, night.Closes) + Margin)).FirstOrDefault();
}
