using System.Text;
using SetWeek.Model.Files;

namespace SetWeek.Service.Tests;

/// <summary>The demo's files, taken through the API, make the very weeks that docs/examples gives to the command line.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ScenarioTests(RunningService service)
{
    [Theory]
    [InlineData("harbour-street")]
    [InlineData("mill-lane", "Tall umbrella stand replaces Cycle tied to its stand: Mill Lane has no cycle-stand.")]
    public async Task A_store_of_the_scenario_gets_the_week_of_the_examples(string store, params string[] scoping)
    {
        var office = service.NewChain().HeadOffice;
        await Sent(office, "/directions", "first-rain.direction");
        await Sent(office, "/stores", $"{store}.store");
        var opened = await Sent(office, "/weeks", $"{store}.opening");
        Assert.Equal(scoping, opened.Json["scoping"]!.AsArray().Select(decision => (string?)decision!["sentence"]));

        var made = await office.Get($"/weeks/first-rain.{store}/week-file");
        var example = await File.ReadAllBytesAsync(Repository.PathOf("docs", "examples", $"{store}.week.json"));
        Assert.Equal(AsWritten(example), AsWritten(Encoding.UTF8.GetBytes(made.Text)));
    }

    private static async Task<Heard> Sent(Voice office, string path, string file)
    {
        var answer = await office.Post(path, await File.ReadAllTextAsync(Repository.PathOf("ops", "scenario", $"{file}.json")));
        Assert.True(answer.Status == 201, answer.Text);
        return answer;
    }

    /// <summary>In the one form that every week is written in, so that only a difference of content is one.</summary>
    private static string AsWritten(byte[] file) => Encoding.UTF8.GetString(WeekFile.Write(WeekFile.Read(file).AsT0));
}
