using System.Globalization;
using Marten;
using NodaTime;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Words;

namespace SetWeek.Service.Exports;

public sealed class ReadHours : IQuery
{
    private static readonly string[] Columns =
        ["night", "person", "name", "from", "to", "offset", "planned minutes", "worked minutes"];

    public sealed record View(string Week, IReadOnlyList<HoursView> Hours);

    /// <param name="Name">The id of a person who is erased.</param>
    /// <param name="From">The start of the published shift; absent for somebody who worked without one.</param>
    /// <param name="PlannedMinutes">Paid minutes of the shift: without its break.</param>
    /// <param name="WorkedMinutes">
    /// Minutes from each reported start of work to the reported pause, block or finish; absent if none is reported.
    /// </param>
    public sealed record HoursView(
        string Night, string Person, string Name, OffsetDateTime? From, OffsetDateTime? To, int PlannedMinutes,
        int? WorkedMinutes);

    public static Operation Operation => new("GET", "/weeks/{id}/hours", "readHours",
        "Reads the hours of each person and night: as published, and as reported")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies =
        [
            new(200, "The hours, as JSON or as a table (Accept: text/csv)", typeof(View)),
            Reply.Table("The hours as a table"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        (await PublishedWeek.Read(request, session)).Match(
            published => request.PreferredType("application/json", "text/csv") switch
            {
                "application/json" => Answer.Ok(new View(request.Id, [.. ViewsOf(published)])),
                "text/csv" => Answer.Text(CsvTable.Of(Columns, ViewsOf(published).Select(RowOf)), CsvTable.ContentType),
                _ => Refused.With(406, "Hours are available as application/json or text/csv."),
            },
            refusal => refusal);

    private static IEnumerable<HoursView> ViewsOf(PublishedWeek published)
    {
        var words = new WeekLabels(published.Week);
        return published.Hours.Select(hours => new HoursView(hours.Night, hours.Person, words.Person(hours.Person),
            hours.Shift?.From, hours.Shift?.To, hours.PlannedMinutes, hours.WorkedMinutes));
    }

    private static IEnumerable<string> RowOf(HoursView hours) =>
    [
        hours.Night, hours.Person, hours.Name, hours.From is { } from ? ExportedTime.Text(from) : "",
        hours.To is { } to ? ExportedTime.Text(to) : "", hours.From is { } start ? ExportedTime.Offset(start) : "",
        hours.PlannedMinutes.ToString(CultureInfo.InvariantCulture),
        hours.WorkedMinutes?.ToString(CultureInfo.InvariantCulture) ?? "",
    ];
}
