using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Marten;
using Npgsql;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Stores;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Feed;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Tests.Storage;

/// <summary>
/// Stored events are never edited, so the golden file has the form in which existing databases store each event, under every name
/// that was ever used. A change that fails this test needs a new event name and an older form in <see cref="StoredEvents.Older"/>,
/// and not a new golden file.
/// </summary>
public sealed class StoredEventTests
{
    private static readonly ISerializer Serializer = SerializerOfTheStore();
    private static readonly JsonObject Golden = Read("stored-events.json"), Older = Read("stored-events-older.json");

    public static TheoryData<string> Names => new(StoredEvents.Names.Values);

    [Theory]
    [MemberData(nameof(Names))]
    public void An_event_is_written_in_its_golden_form_and_read_from_it(string name)
    {
        var sample = EventSamples.All.Single(candidate => StoredEvents.Names[candidate.GetType()] == name);
        var json = Serializer.ToJson(sample);
        Assert.True(Golden.ContainsKey(name), $"There is no golden form of {name} yet; it would be:\n{json}");
        Assert.True(JsonNode.DeepEquals(Golden[name], JsonNode.Parse(json)),
            $"{name} was\n{Golden[name]!.ToJsonString()}\nand is now\n{json}");
        using var golden = new MemoryStream(Encoding.UTF8.GetBytes(Golden[name]!.ToJsonString()));
        Assert.Equal(json, Serializer.ToJson(Serializer.FromJson(sample.GetType(), golden)));
    }

    /// <summary>
    /// PostgreSQL's jsonb does not keep the order of keys (its documentation, section 8.14): shorter keys come first, then those
    /// that are less byte by byte (seen, not documented).
    /// </summary>
    [Theory]
    [MemberData(nameof(Names))]
    public void An_event_is_read_with_its_fields_in_the_order_of_the_database(string name)
    {
        var sample = EventSamples.All.Single(candidate => StoredEvents.Names[candidate.GetType()] == name);
        using var stored = new MemoryStream(Encoding.UTF8.GetBytes(Sorted(Golden[name]!)!.ToJsonString()));
        Assert.Equal(Serializer.ToJson(sample), Serializer.ToJson(Serializer.FromJson(sample.GetType(), stored)));

        static JsonNode? Sorted(JsonNode? node) => node switch
        {
            JsonObject of => new JsonObject(of.OrderBy(field => field.Key.Length).ThenBy(field => field.Key, StringComparer.Ordinal)
                .Select(field => KeyValuePair.Create(field.Key, Sorted(field.Value)))),
            JsonArray list => new JsonArray([.. list.Select(Sorted)]),
            _ => node?.DeepClone(),
        };
    }

    public static TheoryData<string> OlderNames => new(Older.Select(entry => entry.Key));

    /// <summary>Fields have been added to these events since. What was stored before is read and keeps its values.</summary>
    [Theory]
    [MemberData(nameof(OlderNames))]
    public void An_event_stored_in_an_older_form_is_read_from_it(string name)
    {
        var type = StoredEvents.Names.Single(pair => pair.Value == name).Key;
        // Where fields were added more than once, the entry is a list of forms.
        foreach (var form in Older[name] is JsonArray forms ? [.. forms] : (JsonNode?[])[Older[name]])
        {
            using var older = new MemoryStream(Encoding.UTF8.GetBytes(form!.ToJsonString()));
            AssertContains(JsonNode.Parse(Serializer.ToJson(Serializer.FromJson(type, older)))!, form);
        }
    }

    public static TheoryData<string> EveryNameEverStored => new(Golden.Select(entry => entry.Key));

    /// <summary>What is stored under a name today, or was under a name that is written no more, is read as an event of today.</summary>
    [Theory]
    [MemberData(nameof(EveryNameEverStored))]
    public void Whatever_was_ever_stored_is_read_as_an_event_of_today(string name)
    {
        var json = Golden[name]!.ToJsonString();
        using var stored = new MemoryStream(Encoding.UTF8.GetBytes(json));
        var read = StoredEvents.Older.TryGetValue(name, out var older) ? older.Read(JsonDocument.Parse(json))
            : Serializer.FromJson(StoredEvents.Names.Single(pair => pair.Value == name).Key, stored);
        Assert.Contains(read.GetType(), StoredEvents.Names.Keys);
    }

    [Fact]
    public void Every_event_has_a_name_and_no_name_is_used_twice()
    {
        var events = typeof(StoreOpened).Assembly.GetTypes().Where(type => type is { IsClass: true, IsAbstract: false }
            && (type.IsAssignableTo(typeof(IStoreEvent)) || type.IsAssignableTo(typeof(IDirectionEvent))
                || type.IsAssignableTo(typeof(IWeekEvent))));
        Assert.Equal(events.Select(type => type.Name).Order(), StoredEvents.Names.Keys.Select(type => type.Name).Order());
        Assert.Distinct(StoredEvents.Names.Values);
        Assert.Equal(StoredEvents.Names.Values.Concat(StoredEvents.Older.Keys).Order(), Golden.Select(entry => entry.Key).Order());
    }

    /// <summary>A fold throws for an event without a case, so that none is ignored by oversight.</summary>
    [Fact]
    public void Every_event_has_a_case_in_the_fold_of_its_stream()
    {
        var opened = StoreWeek.Evolve(null, EventSamples.All.OfType<WeekOpened>().Single());
        Assert.All(EventSamples.All.OfType<IWeekEvent>(), happened => Assert.NotNull(StoreWeek.Evolve(opened, happened)));
        Assert.All(EventSamples.All.OfType<IStoreEvent>(), happened => Assert.NotNull(StoreProfile.Evolve(null, happened)));
        Assert.All(EventSamples.All.OfType<IDirectionEvent>(), happened => Assert.NotNull(Direction.Evolve(null, happened)));
    }

    [Fact]
    public void Every_event_is_either_published_to_the_feed_or_private()
    {
        var types = EventSamples.All.Select(e => Published.Of(e)).OfType<Published>().Select(published => published.Type).ToList();
        Assert.All(types, type => Assert.Matches(@"^setweek\.[a-z-]+\.v[0-9]+$", type));
        Assert.Distinct(types);
        Assert.Throws<ArgumentException>(() => Published.Of("no event of ours"));
    }

    /// <summary>Every value of the older form is in the newer one.</summary>
    private static void AssertContains(JsonNode newer, JsonNode older)
    {
        switch (older)
        {
            case JsonObject fields:
                foreach (var (name, value) in fields)
                    if (value is null) Assert.Null(newer[name]);
                    else AssertContains(newer[name]!, value);
                break;
            case JsonArray items:
                Assert.Equal(items.Count, newer.AsArray().Count);
                foreach (var (index, item) in items.Index()) AssertContains(newer[index]!, item!);
                break;
            default:
                Assert.True(JsonNode.DeepEquals(older, newer), $"{older.GetPath()} was {older} and is read as {newer}");
                break;
        }
    }

    private static JsonObject Read(string file) => JsonNode.Parse(
        File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Storage", file)))!.AsObject();

    private static ISerializer SerializerOfTheStore()
    {
        var options = new StoreOptions();
        MartenConfiguration.Configure(options, NpgsqlDataSource.Create("Host=nowhere"));
        return options.Serializer();
    }
}
