using Marten;
using NodaTime;
using Npgsql;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Crews;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Crews;

/// <summary>The people of a week with their particulars, which colleagues do not read.</summary>
public sealed class ReadCrew : IQuery
{
    public sealed record View(IReadOnlyList<MemberView> Crew);

    /// <param name="Absent">The ids of the nights from which the person is absent. The reasons are notes on the week.</param>
    /// <param name="Calendar">When the address of the person's calendar was made; absent if there is none.</param>
    public sealed record MemberView(
        string Id, string Name, IReadOnlyDictionary<string, int> Skills, bool Keyholder, bool Under18, int RatePerHour,
        IReadOnlyList<Availability> Available, IReadOnlyList<Commitment> Commitments, int? MaxMinutesPerNight, int? MaxNights,
        int MinutesAlready, IReadOnlyList<string> Absent, Instant? Calendar);

    public static Operation Operation => new("GET", "/weeks/{id}/crew", "readCrew",
        "Reads the people of a week: skills, keys, availability, absences, limits, pay")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Replies =
        [
            new(200, "The crew; send the ETag as If-Match with a change", typeof(View)) { HasETag = true },
            Reply.Page("The same as a page"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var calendars = await CalendarsOf(session, week.Id, request.Cancelled);
        var members = crew.Members.Where(member => week.Crew.Contains(member.Id)).Select(member => (Member: member,
            Absent: week.Week.Nights.Select(night => night.Id)
                .Where(night => week.Absences.Contains((member.Id, night))).ToList(),
            Calendar: calendars.TryGetValue(member.Id, out var made) ? made : (Instant?)null)).ToList();
        if (!request.WantsPage)
            return Answer.Ok(new View([.. members.Select(found => Of(found.Member, found.Absent, found.Calendar))]))
                .WithVersion(stream.Version);
        return (await request.Page<CrewPage, CrewPage.People>(new(
            await session.TitleOf(week, request.Cancelled),
            WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Crew"), $"/weeks/{week.Id}",
            $"/stores/{week.Week.Store.Id}", week.Week,
            [.. members.Select(found => new CrewPage.Person(found.Member, found.Absent,
                found.Calendar?.InZone(StoreTime.ZoneOf(week)).LocalDateTime))],
            request.Caller.Role == Role.Lead,
            request.FormToken() is { } token ? new CrewPage.Acts(token) : null)
        {
            Who = request.ReaderIn(crew),
        }))
            .WithVersion(stream.Version);
    }

    private static MemberView Of(CrewMember member, IReadOnlyList<string> absent, Instant? calendar) => new(
        member.Id, member.Name, member.Skills, member.Keyholder, member.Under18, member.RatePerHour, member.Available,
        member.Commitments, member.MaxMinutesPerNight, member.MaxNights, member.MinutesAlready, absent, calendar);

    /// <summary>By person: when the address of the calendar was made. The address itself is not stored.</summary>
    private static async Task<IReadOnlyDictionary<string, Instant>> CalendarsOf(
        IQuerySession session, string week, CancellationToken cancelled)
    {
        await using var read = new NpgsqlCommand(
            "select person, created from setweek.calendar where tenant_id = @tenant and week = @week");
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("week", week);
        await using var rows = await session.ExecuteReaderAsync(read, cancelled);
        var made = new Dictionary<string, Instant>();
        while (await rows.ReadAsync(cancelled))
            made[rows.GetString(0)] = Instant.FromDateTimeOffset(rows.GetFieldValue<DateTimeOffset>(1));
        return made;
    }
}
