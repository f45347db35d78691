using System.Text;
using SetWeek.Model.Files;

namespace SetWeek.Service.Tests;

/// <summary>The demo's files, sent to the API, give exactly the weeks of docs/examples.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ScenarioTests(RunningService service)
{
    [Theory]
    [InlineData("harbour-street")]
    [InlineData("mill-lane", "“Tall umbrella stand” replaces “Cycle tied to its stand”: Mill Lane has no cycle-stand.")]
    public async Task The_API_builds_the_example_week_of_a_demo_store(string store, params string[] scoping)
    {
        var office = service.NewChain().HeadOffice;
        await Created(office, "/directions", "first-rain.direction");
        await Created(office, "/stores", $"{store}.store");
        var opened = await Created(office, "/weeks", $"{store}.opening");
        Assert.Equal(scoping, opened.Json["scoping"]!.AsArray().Select(decision => (string?)decision!["sentence"]));

        var weekFile = await office.Get($"/weeks/first-rain.{store}/week-file");
        var example = await File.ReadAllBytesAsync(Repository.PathOf("docs", "examples", $"{store}.week.json"));
        Assert.Equal(AsWritten(example), AsWritten(Encoding.UTF8.GetBytes(weekFile.Text)));
    }

    private static async Task<ApiResponse> Created(ApiClient office, string path, string file)
    {
        var answer = await office.Post(path, await File.ReadAllTextAsync(Repository.PathOf("ops", "scenario", $"{file}.json")));
        Assert.True(answer.Status == 201, answer.Text);
        return answer;
    }

    /// <summary>The file rewritten by our writer, so that only the content is compared.</summary>
    private static string AsWritten(byte[] file) => Encoding.UTF8.GetString(WeekFile.Write(WeekFile.Read(file).AsT0));
}
