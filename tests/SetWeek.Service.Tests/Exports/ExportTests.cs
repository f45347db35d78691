using System.Net.Http.Headers;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Exports;

[Collection(ServiceCollection.Name)]
public sealed class ExportTests(RunningService service)
{
    [Fact]
    public async Task The_published_plan_is_read_as_a_workbook_that_names_nobodys_pay()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(opening: Opening.Replace("\"Ben Marsh\"", "\"=1+1\""));
        Assert.Equal((404, "nothing-published"), Told(await week.Lead.Get($"{Address}/plan.xlsx")));
        await week.PlanAndPublish();
        Assert.Equal(200, (await week.Lead.Get($"{Address}/plan.xlsx")).Status); // as described

        using var client = service.Host.Server.CreateClient();
        client.DefaultRequestHeaders.Authorization =
            new AuthenticationHeaderValue("Bearer", chain.TokenOf("cy", Role.Crew, "harbour-street"));
        using var answer = await client.GetAsync($"{Address}/plan.xlsx");
        Assert.Equal("application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
            answer.Content.Headers.ContentType?.MediaType);
        Assert.Equal("attachment; filename=\"first-rain.harbour-street.xlsx\"",
            answer.Content.Headers.ContentDisposition?.ToString());
        using var book = new SheetReader(await answer.Content.ReadAsByteArrayAsync());
        Assert.Equal(0, book.Formulas);
        Assert.Contains(book.Rows("shifts"), row => row[5].Value == "=1+1" && row[5].IsText);
        Assert.Contains(book.Rows("plan"), row => row.Any(cell => cell.Value == "Set the forms"));
        Assert.DoesNotContain(book.Sheets.SelectMany(book.Rows).SelectMany(row => row), cell =>
            cell.Value is "1500" or "1300" or "1200");
        foreach (var word in (string[])["rate", "wage", "cost"])
            Assert.DoesNotContain(book.Sheets.SelectMany(sheet => book.Rows(sheet)[0]), cell =>
                cell.Value!.Contains(word, StringComparison.OrdinalIgnoreCase));
    }

    /// <summary>
    /// A browser asks for a page, whatever the link leads to. An attachment is stored, under its name (RFC 6266, section 4).
    /// </summary>
    [Fact]
    public async Task Each_table_is_also_a_file_to_which_its_page_leads()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(opening: Opening.Replace("\"Ben Marsh\"", "\"=1+1\""));
        string[] tables = ["plan", "hours"];
        foreach (var table in tables)
            Assert.Equal((404, "nothing-published"), Told(await week.Lead.Get($"{Address}/{table}.csv")));
        await week.PlanAndPublish();

        using var client = service.Host.Server.CreateClient();
        client.DefaultRequestHeaders.Authorization =
            new AuthenticationHeaderValue("Bearer", chain.TokenOf("cy", Role.Crew, "harbour-street"));
        client.DefaultRequestHeaders.Accept.ParseAdd("text/html");
        foreach (var table in tables)
        {
            var asked = await ExpectStatus(200, week.Lead.Get($"{Address}/{table}", ("Accept", "text/csv")));
            Assert.Contains(",'=1+1,", asked.Text);
            Assert.Equal(asked.Text, (await ExpectStatus(200, week.Lead.Get($"{Address}/{table}.csv"))).Text); // as described
            using var answer = await client.GetAsync($"{Address}/{table}.csv");
            Assert.Equal("text/csv", answer.Content.Headers.ContentType?.MediaType);
            Assert.Equal($"attachment; filename=\"first-rain.harbour-street.{table}.csv\"",
                answer.Content.Headers.ContentDisposition?.ToString());
            Assert.Equal(asked.Text, await answer.Content.ReadAsStringAsync());
            var page = await ExpectStatus(200, week.Lead.Get($"{Address}/{table}", ("Accept", "text/html")));
            Assert.Contains($"href=\"{Address}/{table}.csv\"", page.Text);
        }
    }

    [Fact]
    public async Task Hours_are_as_published_and_as_reported()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-09T22:00");
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started",
            """{"id": "r1", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:05:00Z", "people": ["p1"]}"""));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/finished",
            """{"id": "r2", "task": "wall.paint", "night": "monday", "at": "2027-03-08T21:00:00Z"}"""));
        var hours = (await ExpectStatus(200, week.Lead.Get($"{Address}/hours"))).Json["hours"]!.AsArray();
        var asha = Assert.Single(hours, row => (string?)row!["person"] == "p1" && (string?)row["night"] == "monday")!;
        Assert.Equal(("Asha Rowan", 55), ((string?)asha["name"], (int)asha["workedMinutes"]!));
        Assert.Single(hours, row => row!["workedMinutes"] is not null);

        var shifts = (await ExpectStatus(200, week.Lead.Get($"{Address}/plan"))).Json["nights"]!.AsArray()
            .SelectMany(night => night!["shifts"]!.AsArray()).ToList();
        Assert.Equal(shifts.Sum(shift => (int)(Time(shift!, "to") - Time(shift!, "from")).TotalMinutes),
            hours.Sum(row => (int)row!["plannedMinutes"]!)); // nobody of this week has a break

        var table = await ExpectStatus(200, week.Lead.Get($"{Address}/hours", ("Accept", "text/csv")));
        var lines = table.Text.Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal("night,person,name,from,to,offset,planned minutes,worked minutes", lines[0]);
        Assert.Equal(hours.Count, lines.Length - 1);
        Assert.Single(lines, line => line.StartsWith("monday,p1,Asha Rowan,", StringComparison.Ordinal)
            && line.EndsWith(",55", StringComparison.Ordinal));
        var page = System.Net.WebUtility.HtmlDecode((await ExpectStatus(200, week.Lead.Get($"{Address}/hours", ("Accept", "text/html")))).Text);
        Assert.Equal(hours.Count, page.Split("scope=\"row\"").Length - 1);
        Assert.Contains("Asha Rowan", page);
        Assert.Equal(406, (await week.Lead.Get($"{Address}/hours", ("Accept", "image/png"))).Status);
    }

    [Fact]
    public async Task A_name_in_the_table_of_hours_is_no_formula()
    {
        var week = await new FirstRain(service.NewChain()).Open(opening: Opening.Replace("\"Cleo Strand\"", "\"@SUM(A1)\"")
            .Replace("\"Ben Marsh\"", "\"=1+1\"").Replace("\"Asha Rowan\"", "\"-1\""));
        await week.PlanAndPublish();
        var rows = (await ExpectStatus(200, week.Lead.Get($"{Address}/hours", ("Accept", "text/csv")))).Text
            .Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(line => line.Split(',')[2]).ToList();
        Assert.NotEmpty(rows);
        Assert.All(rows, name => Assert.StartsWith("'", name));
    }

    private static DateTimeOffset Time(System.Text.Json.Nodes.JsonNode shift, string end) =>
        DateTimeOffset.Parse((string)shift[end]!, System.Globalization.CultureInfo.InvariantCulture);

    private static (int, string?) Told(ApiResponse answer) => (answer.Status, answer.Code);
}
