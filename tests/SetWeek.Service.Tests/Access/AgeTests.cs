using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Access;

/// <summary>Nobody's age is told to those who read the week and its plans but not the particulars of its people.</summary>
[Collection(ServiceCollection.Name)]
public sealed partial class AgeTests(RunningService service)
{
    private static readonly string Opening = FirstRain.Opening.Replace("\"minRestMinutes\": 660",
        "\"minRestMinutes\": 660, \"under18\": {\"until\": \"20:15\"}", StringComparison.Ordinal);

    /// <summary>Ben and Cleo must leave a quarter of an hour after the night opens, so nobody can be there with Asha.</summary>
    [Fact]
    public async Task A_week_without_a_plan_does_not_tell_crew_who_is_young()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(opening: Opening
            .Replace("\"ratePerHour\": 1300", "\"ratePerHour\": 1300, \"under18\": true", StringComparison.Ordinal)
            .Replace("\"ratePerHour\": 1200", "\"ratePerHour\": 1200, \"under18\": true", StringComparison.Ordinal));
        var none = await week.Plan(state: "none");
        Assert.Contains("young-worker", RulesOf(none["plan"]!["conflict"]!));
        var address = $"{Address}/plans/{none["id"]}";
        foreach (var reader in Others(chain))
        {
            Assert.Contains("availability", RulesOf((await ExpectStatus(200, reader.Get(address))).Json["plan"]!["conflict"]!));
            await AssertNoAge(reader, address);
        }
        Assert.Contains("to be home by 20:15", await Page(week.Lead, address));
        Assert.DoesNotMatch(Age(), await Page(week.Lead, address));
    }

    /// <summary>Ben and Cleo turn out to be under 18 when the plan, with shifts of at least an hour, is published.</summary>
    [Fact]
    public async Task A_plan_that_no_longer_holds_does_not_tell_crew_who_is_young()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open(opening: Opening);
        await week.PlanAndPublish();
        foreach (var person in new[] { "p2", "p3" })
            await ExpectStatus(204, week.Lead.Put($"{Address}/crew/{person}", """{"under18": true}""", ("If-Match", await week.ETag())));
        var broken = (await week.Week())["brokenPlan"]!;
        Assert.Equal("young-worker", (string?)broken["rule"]);
        Assert.Matches("^(Ben Marsh|Cleo Strand) is to be home by ... \\d+ Mar 20:15, but the shift ends ", (string)broken["sentence"]!);
        foreach (var reader in Others(chain))
        {
            var seen = (await ExpectStatus(200, reader.Get(Address))).Json["brokenPlan"]!;
            Assert.Equal(("availability", (string?)broken["sentence"]), ((string?)seen["rule"], (string?)seen["sentence"]));
            await AssertNoAge(reader, Address + "/plan");
            var history = (await ExpectStatus(200, reader.Get($"{Address}/history"))).Text;
            Assert.Contains("changed: particulars.", history);
            Assert.DoesNotMatch(Age(), history);
        }
    }

    /// <summary>
    /// The files with a sentence on people under 18: forms and pages of leads and head office, and what concerns nobody by name.
    /// A new one belongs here only if no colleague reads it of a person.
    /// </summary>
    [Fact]
    public void Sentences_on_people_under_18_stand_only_where_leads_read_them()
    {
        string[] found = [.. new[] { "*.cs", "*.razor" }
            .SelectMany(files => Directory.EnumerateFiles(Repository.PathOf("src"), files, SearchOption.AllDirectories))
            .Where(file => !file.Split(Path.DirectorySeparatorChar).Contains("obj")
                && File.ReadLines(file).Any(line => !Comment().IsMatch(line) && Said().IsMatch(line)))
            .Select(file => Path.GetFileName(file)).Order(StringComparer.Ordinal)];
        Assert.Equal(["CrewSentences.cs", "FactsPage.razor", "GoalFactsPage.razor", "PersonFactsPage.razor", "RiskSentences.cs",
            "RuleFactsPage.razor", "RuleWords.cs"], found);
    }

    private static IEnumerable<ApiClient> Others(Chain chain) =>
        [chain.As("p1", Role.Crew, "harbour-street"), chain.As("eng", Role.Engineer), chain.As("rae", Role.Region)];

    private static async Task AssertNoAge(ApiClient reader, string address)
    {
        Assert.DoesNotMatch(Age(), (await ExpectStatus(200, reader.Get(address))).Text);
        Assert.DoesNotMatch(Age(), await Page(reader, address));
    }

    private static async Task<string> Page(ApiClient reader, string address) =>
        (await ExpectStatus(200, reader.Get(address, ("Accept", "text/html")))).Text;

    private static IEnumerable<string?> RulesOf(JsonNode conflict) =>
        conflict.AsArray().Select(breach => (string?)breach!["rule"]);

    [GeneratedRegex(@"(?i)under.?18|young|\bminors?\b|\badults?\b|\baged?\b")]
    private static partial Regex Age();

    [GeneratedRegex(@"(?i)under 18|under-18|young (worker|people|person)")]
    private static partial Regex Said();

    [GeneratedRegex(@"^\s*(//|@\*)|^\s*<summary>")]
    private static partial Regex Comment();
}
