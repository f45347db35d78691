using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests.Names;

/// <summary>
/// A line from left to right that contains names from right to left is read in its order: what stands before a name is at its
/// left, what follows at its right. By the Unicode Standard a number that follows such a name would else go to its other side.
/// What was typed and stands alone is read from right to left, also across a figure, a full stop and a bracket.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class RightToLeftTests(Site site)
{
    private const string Asha = "נועה ב. שחר", Cleo = "عبد الرحمن";

    /// <summary>The show window, the kit of forms and the painting of the wall.</summary>
    private const string Window = "חלון 2 לרחוב", Forms = "ערכת בובות (6 יחידות)", Wall = "לצבוע 2 קירות";

    /// <summary>What is typed into the direction.</summary>
    private const string About = "קיר כחול. בגובה 2 מטר", Step = "להדביק סרט. לחכות 5 דקות", Check = "אין כתם. 2 שכבות",
        Caution = "לאוורר. 10 דקות לפחות";

    /// <summary>What is typed in the week: of a snag, a lifted stop and a check, and in a question with its answer.</summary>
    private const string Broken = "הזכוכית שבורה. צריך להחליף", Why = "נפל סולם. 2 מטר", Fixed = "הוחלף. 1 לוח חדש",
        Lifted = "החלון מאובטח. נבדק 2 פעמים", Bad = "יש רווח. 3 ס״מ", Asked = "מותר לתלות 20 ס״מ נמוך יותר?",
        Answered = "כן. עד 180 ס״מ";

    private static readonly IReadOnlyList<string> Typed =
        [Asha, Cleo, Window, Forms, Wall, About, Step, Check, Caution, Broken, Why, Fixed, Lifted, Bad, Asked, Answered];

    [BrowserFact]
    public async Task Names_and_times_stand_in_the_order_of_their_line()
    {
        var week = await StoreWeek.Open(site, FirstRain.Direction.Replace("Paint the wall", Wall)
                .Replace("\"name\": \"Forms\"", $"\"name\": \"{Forms}\"")
                .Replace("\"name\": \"Painted wall\"", $"\"name\": \"Painted wall\", \"about\": \"{About}\"")
                .Replace("Mask the edges.", Step).Replace("No bare spot.", Check).Replace("Air the room.", Caution),
            Samples.Store(name: "Harbour Street").Replace("Show window", Window),
            FirstRain.Opening.Replace("Asha Rowan", Asha).Replace("Cleo Strand", Cleo));
        await week.PlanAndPublish();
        week.MoveTo("2027-03-08T20:10");
        await IsReported(week);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var (faults, found, besideNumbers) = (new List<string>(), new HashSet<string>(), 0);
        foreach (var page in new[]
        {
            "plan", "nights/monday/sheet", "nights/monday/sheet?person=p1", "nights/monday/sheet?view=record", "tonight",
            "nights/monday/opening", "nights/monday/closing", "nights/monday/pieces/101", "nights/monday/pieces/101?act=finish",
            "kits", "kits/forms", "crew", "told", "facts", "hours", "walk-through", "hand-over", "history", "snags", "snags/1",
            "questions", "/directions/first-rain", "/directions/first-rain?display=wall",
        })
        {
            var answer = await lead.Page.GotoAsync(page.StartsWith('/') ? page : $"{week.Address}/{page}");
            Assert.Equal((page, 200), (page, answer!.Status));
            var order = await ReadingOrder.Of(lead.Page, Typed);
            faults.AddRange(order.Faults.Select(fault => $"{page}: {fault}"));
            found.UnionWith(order.Found);
            besideNumbers += order.BesideNumbers;
        }
        Assert.True(faults.Count == 0, string.Join('\n', faults));
        Assert.Equal([], Typed.Except(found));
        Assert.InRange(besideNumbers, 10, int.MaxValue);
    }

    /// <summary>What people say of the night; the history has a sentence that begins with a name.</summary>
    private static async Task IsReported(StoreWeek week)
    {
        const string at = "\"at\": \"2027-03-08T20:05:00Z\"";
        var said = (await Read(week, "nights/monday/opening"))["briefing"]!.AsArray()
            .Where(item => (bool)item!["isRequired"]!).Select(item => $"\"{item!["id"]}\"");
        await Report(week, "nights/monday/opening",
            $$"""{"id": "r1", {{at}}, "here": ["p1", "p2"], "firstAider": "p1", "said": [{{string.Join(", ", said)}}]}""");
        await Report(week, "nights/monday/came", $$"""{"id": "r2", {{at}}, "person": "p3"}""");
        await Report(week, "work/stopped", $$"""{"id": "r3", {{at}}, "night": "monday", "zone": "window"}""");
        await Report(week, "stops/r3/lifted", $$"""{"why": "{{Lifted}}"}""");
        await Report(week, "snags", $$"""
            {"id": "r4", {{at}}, "what": "{{Broken}}", "why": "{{Why}}", "zone": "window", "owner": "store", "due": "2027-03-13"}
            """);
        await Report(week, "snags/1/fixed", $$"""{"id": "r5", {{at}}, "note": "{{Fixed}}"}""");
        var check = (await Read(week, "walk-through"))["areas"]!.AsArray().Single(area => (string?)area!["zone"] == "window")!
            ["checks"]![0]!["check"]!["id"];
        await Report(week, "walk-through", $$"""
            {"id": "r6", {{at}}, "zone": "window", "answers": [{"check": "{{check}}", "answer": "notGood", "why": "{{Bad}}"}]}
            """);
        await Report(week, "questions", $$"""{"id": "q1", {{at}}, "for": "lead", "text": "{{Asked}}"}""");
        await Report(week, "questions/q1/answer", $$"""{"text": "{{Answered}}"}""");
    }

    private static async Task Report(StoreWeek week, string address, string report)
    {
        var answer = await week.Lead.Post($"{week.Address}/{address}", report);
        Assert.True(answer.Status < 300, $"{address}: {answer.Text}");
    }

    private static async Task<JsonNode> Read(StoreWeek week, string address) =>
        (await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/{address}"))).Json;

    [BrowserTheory]
    [InlineData("<p>101, עבד, 20:15</p>", "“20:15” is not at the right of “עבד”")]
    [InlineData("<p>101, <bdi>עבד</bdi>, 20:15</p>", null)]
    [InlineData("<p dir=auto>עבד came 20:15.</p>", "“came” stands in a text from right to left")]
    [InlineData($"<p><bdi>לצבוע</bdi> 2 <bdi>קירות</bdi></p>", $"“{Wall}” is read in pieces")]
    [InlineData($"<p>1 <bdi>{Asha}, {Cleo}</bdi></p>", $"“{Asha}” and “{Cleo}” share one direction")]
    [InlineData($"<p>“<bdi>{Wall}</bdi>”</p><p dir=auto>{Wall}</p>", null)]
    public async Task A_line_in_another_order_is_found(string line, string? fault)
    {
        await using var visit = await site.Open();
        await visit.Page.SetContentAsync(line);
        var order = await ReadingOrder.Of(visit.Page, Wall, Asha, Cleo);
        Assert.Equal(fault is null ? [] : [fault], order.Faults.Distinct().Take(1));
        Assert.Equal(line.Contains("לצבוע") ? [Wall] : [], order.Found);
        Assert.NotEqual(0, order.BesideNumbers);
    }
}
