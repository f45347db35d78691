using NodaTime.Text;
using Npgsql;
using SetWeek.Domain.Weeks;

namespace SetWeek.Service.Tests.Faults;

/// <summary>Compares what the clients of a faulty service know with what is stored and answered.</summary>
internal static class Verification
{
    /// <summary>Every acknowledged report is in one event, and every event with a report was acknowledged.</summary>
    public static async Task OfReports(string database, IReadOnlyList<Phone> phones)
    {
        await using var source = NpgsqlDataSource.Create(database);
        await using var command = source.CreateCommand("select data->>'report' from setweek.mt_events where data ? 'report'");
        await using var rows = await command.ExecuteReaderAsync();
        var stored = new List<string>();
        while (await rows.ReadAsync()) stored.Add(rows.GetString(0));
        Assert.Equal(phones.SelectMany(phone => phone.Acknowledged).Select(report => report.Report).Order(StringComparer.Ordinal),
            stored.Order(StringComparer.Ordinal));
    }

    /// <summary>The status of each task is the fold of what the phones of the week had acknowledged.</summary>
    public static Task OfWeek(ApiResponse week, IEnumerable<Phone> phones)
    {
        var expected = phones.SelectMany(phone => phone.Acknowledged).Aggregate(ReportedWork.Empty, (work, report) =>
            work.With(report)).Statuses.Select(status => (status.Subject.Task, status.State.ToString().ToLowerInvariant(),
                status.From is { } from ? OffsetDateTimePattern.Rfc3339.Format(from) : null,
                status.To is { } to ? OffsetDateTimePattern.Rfc3339.Format(to) : null));
        var answered = week.Json["work"]!.AsArray().Select(work => ((string?)work!["task"], (string)work["state"]!,
            (string?)work["from"], (string?)work["to"]));
        Assert.Equal(expected, answered);
        return Task.CompletedTask;
    }

    /// <summary>
    /// The feed as it was followed is the feed as it is: nothing lost, repeated or moved; and each subject's events are in order.
    /// </summary>
    public static void OfFeed(IReadOnlyList<FeedReader.Entry> followed, IReadOnlyList<FeedReader.Entry> fresh)
    {
        Assert.Equal(fresh, followed);
        Assert.Equal(fresh.Count, fresh.Select(entry => entry.Id).Distinct().Count());
        foreach (var subject in fresh.GroupBy(entry => entry.Subject))
            Assert.Equal(subject.Select(entry => entry.Sequence).Order(), subject.Select(entry => entry.Sequence));
    }
}
