using System.Net;
using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Nights;

/// <summary>
/// The forms are in two of three cartons. A technique card says how they are set; none says how the wall is painted.
/// </summary>
[Collection(ServiceCollection.Name)]
public sealed class CartonTests(RunningService service)
{
    private const string Lines = """[{"item": "form", "expected": 4}]}]}""", How = "/directions/first-rain?display=wall";

    private static readonly string Packed = FirstRain.Direction.Replace(Lines, """
        [{"item": "form", "expected": 4}], "cartons": [{"mark": "F1", "holds": ["Two forms"], "items": ["form"]},
            {"mark": "F2", "holds": ["Stands"]}, {"mark": "F3", "holds": ["Two forms"], "items": ["form"]}]}],
         "cards": [{"id": "set", "name": "Set a form", "tasks": ["wall.forms"], "tools": ["spigot key", "tape measure"]}]}
        """, StringComparison.Ordinal);

    [Fact]
    public async Task A_piece_says_in_which_cartons_its_parts_lie_with_which_tools_and_where_it_is_said_how()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(Packed);
        await week.PlanAndPublish();
        // The week has not taken this version of the direction.
        await ExpectStatus(204, week.HeadOffice.Put("/directions/first-rain",
            Packed.Replace("\"mark\": \"F", "\"mark\": \"N", StringComparison.Ordinal), ("If-Match", "\"1\"")));
        var pieces = new List<(string Night, JsonNode Json)>();
        foreach (var night in new[] { "monday", "tuesday", "wednesday" })
            pieces.AddRange((await ExpectStatus(200, week.Lead.Get($"{Address}/nights/{night}/sheet"))).Json["pieces"]!.AsArray()
                .Select(piece => (night, piece!)));
        var (formsNight, forms) = pieces.Single(piece => (string?)piece.Json["task"] == "wall.forms");
        var (paintNight, paint) = pieces.Single(piece => (string?)piece.Json["task"] == "wall.paint");
        Assert.Equal("""["F1","F3"]""", Assert.Single(forms["kits"]!.AsArray())!["cartons"]!.ToJsonString());
        Assert.Equal("""[{"card":"set","name":"Set a form","tools":["spigot key","tape measure"]}]""",
            forms["cards"]!.ToJsonString());
        Assert.Empty(paint["cards"]!.AsArray());

        var (person, number) = ((string)forms["people"]![0]!["person"]!, (int)forms["number"]!);
        using var crew = await chain.SignedIn(person, Role.Crew);
        string[] addresses =
            [$"{Address}/nights/{formsNight}/sheet?person={person}", $"{Address}/nights/{formsNight}/pieces/{number}"];
        foreach (var reader in new[] { crew.Api, week.HeadOffice, chain.As("eng", Role.Engineer) })
        {
            foreach (var address in addresses)
            {
                var page = await Page(reader, address);
                Assert.Contains("<li>Forms: form, in cartons F1 and F3. Not here yet.</li>", page, StringComparison.Ordinal);
                Assert.Contains("<li>spigot key</li>", page, StringComparison.Ordinal);
                Assert.Contains($"href=\"{How}\">How it is done</a>", page, StringComparison.Ordinal);
            }
            Assert.Contains("Set a form", await Page(reader, How), StringComparison.Ordinal);
        }
        Assert.DoesNotContain("How it is done",
            await Page(crew.Api, $"{Address}/nights/{paintNight}/pieces/{(int)paint["number"]!}"), StringComparison.Ordinal);
    }

    private static async Task<string> Page(ApiClient reader, string address) =>
        WebUtility.HtmlDecode((await ExpectStatus(200, reader.Get(address, ("Accept", "text/html")))).Text);
}
