using System.Text.Json;
using System.Text.Json.Nodes;
using SetWeek.Service.Feed;
using SetWeek.Service.Json;
using SetWeek.Service.Tests.Storage;

namespace SetWeek.Service.Tests.Feed;

/// <summary>
/// The golden file has the form of each event of the feed, made from the samples of the stored events. Readers depend on it: a change
/// that fails this test needs a new version of the type, unless it only adds a member.
/// </summary>
public sealed class FeedFormTests
{
    private static readonly JsonObject Golden = JsonNode.Parse(
        File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Feed", "feed-events.json")))!.AsObject();

    private static readonly IReadOnlyDictionary<string, JsonNode> Forms = EventSamples.All
        .Select(sample => Published.Of(sample, Published.NoteOf(sample, "first-rain.harbour-street") is null ? null : "A text."))
        .OfType<Published>().ToDictionary(
            published => published.Type, published => JsonSerializer.SerializeToNode(published.Data, JsonFormat.Options)!);

    public static TheoryData<string> Types => new(Forms.Keys);

    [Theory]
    [MemberData(nameof(Types))]
    public void An_event_of_the_feed_has_its_golden_form(string type)
    {
        var form = Forms[type].ToJsonString(JsonFormat.Options);
        Assert.True(Golden.ContainsKey(type), $"There is no golden form of {type} yet; it would be:\n{form}");
        Assert.True(JsonNode.DeepEquals(Golden[type], Forms[type]), $"{type} was\n{Golden[type]!.ToJsonString()}\nand is now\n{form}");
    }

    [Fact]
    public void Every_golden_form_is_still_sent() => Assert.Equal(Golden.Select(entry => entry.Key).Order(), Forms.Keys.Order());

    /// <summary>A store may name a task after somebody. The samples have names for all that has one.</summary>
    [Theory]
    [InlineData("tasks-revised", "Hang the canopy")]
    [InlineData("display-set", "Hung canopy")]
    [InlineData("kit-set", "Props")]
    public void Names_that_a_store_may_have_written_are_left_out(string type, string name) =>
        Assert.DoesNotContain(name, Forms[$"setweek.{type}.v1"].ToJsonString());
}
