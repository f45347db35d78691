using System.Text.Json.Nodes;
using NodaTime;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Service.Tests.Faults;

/// <summary>A phone on the sales floor that sends seeded random reports on the work of a week, one after the other.</summary>
internal sealed class Phone(string name, string week, Persistence lead, Random random)
{
    private static readonly string[] Tasks = ["wall.paint", "wall.forms", "cycle.panel.fix"];
    private static readonly LocalDateTime Monday = new(2025, 3, 8, 20, 0);

    /// <summary>The reports that the service has acknowledged.</summary>
    public List<IWorkReport> Acknowledged { get; } = [];

    public string Week => week;

    public async Task SendUntil(CancellationToken end)
    {
        for (var number = 1; !end.IsCancellationRequested; number++)
        {
            var (kind, report) = Next($"{name}.{number}");
            var response = await lead.Ask(node => node.Post($"/weeks/{week}/work/{kind}", Body(report)));
            Assert.True(response.Status == 204, $"{response.Status}: {response.Text}");
            Acknowledged.Add(report);
        }
    }

    private (string Kind, IWorkReport Report) Next(string id)
    {
        var (task, at) = (Tasks[random.Next(Tasks.Length)], Monday.PlusMinutes(random.Next(240)).WithOffset(Offset.Zero));
        return random.Next(4) switch
        {
            0 => ("started", new WorkStarted(id, task, 1, "monday", at)),
            1 => ("finished", new WorkFinished(id, task, 1, "monday", at)),
            2 => ("blocked", new WorkBlocked(id, task, 1, at, "no-access", random.Next(1, 60), null)),
            _ => ("reopened", new WorkReopened(id, task, 1, at)),
        };
    }

    private static string Body(IWorkReport report)
    {
        var body = new JsonObject
        {
            ["id"] = report.Report, ["task"] = report.Subject.Task,
            ["at"] = NodaTime.Text.OffsetDateTimePattern.Rfc3339.Format(report.At),
        };
        if (report is WorkStarted or WorkFinished) body["night"] = "monday";
        if (report is WorkBlocked block) (body["reason"], body["remainingMinutes"]) = (block.Reason, block.RemainingMinutes);
        return body.ToJsonString();
    }
}
