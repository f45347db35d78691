using System.Diagnostics;
using System.Text;
using NodaTime;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Json;

public class JsonCursorTests
{
    private sealed record KitBody(string Id, int Count, LocalDateTime? Eta, IReadOnlyList<string> Items,
        DisplayCommitment? Promise);

    private static KitBody Read(JsonCursor root) => root.Object(at => new KitBody(
        at.Id("id"), at.Int("count", 1, 9), at.NullableLocalTime("eta"), at.List("items", item => item.Word(), 3),
        at.Optional("promise")?.Choice<DisplayCommitment>()));

    private static IReadOnlyList<Fault> FaultsOf(string json) => FaultsOf(Encoding.UTF8.GetBytes(json));
    private static IReadOnlyList<Fault> FaultsOf(byte[] json) => JsonCursor.Read(json, Read).Match(_ => [], faults => faults.All);
    private static string[] PointersOf(string json) => [.. FaultsOf(json).Select(fault => fault.Pointer)];

    [Fact]
    public void A_valid_object_is_read()
    {
        var kit = JsonCursor.Read(
            """{ "id": "kit-1", "count": 5.0, "eta": "2027-03-08T21:30:00", "items": ["tin"], "promise": "want" }"""u8.ToArray(),
            Read).AsT0;
        Assert.Equal(("kit-1", 5, new LocalDateTime(2027, 3, 8, 21, 30), "tin", DisplayCommitment.Want),
            (kit.Id, kit.Count, kit.Eta, kit.Items[0], kit.Promise));
    }

    [Fact]
    public void All_faults_are_found_at_once_in_the_order_of_the_file() =>
        Assert.Equal(
            ["/promise", "/items/1", "/items/2", "/extra", "/eta", "/id", "/count"],
            PointersOf(
                """{ "promise": "maybe", "items": ["tin", 7, ""], "extra": 1, "eta": "2027-13-08T21:30", "id": "Kit" }"""));

    [Fact]
    public void A_field_given_twice_is_a_fault() =>
        Assert.Equal(["/count"], PointersOf("""{ "id": "a", "count": 1, "eta": null, "items": [], "count": 2 }"""));

    [Theory]
    [InlineData("2027-03-08")]
    [InlineData("2027-03-08T24:61")]
    [InlineData("2027-02-29T12:00")]
    [InlineData("2027-03-08T21:30:01")]
    [InlineData("2027-03-08T21:30Z")]
    [InlineData("2027-03-08T21:30\\n")]
    [InlineData("1999-12-31T23:59")]
    [InlineData("\\u0660027-03-08T21:30")]
    public void An_invalid_time_is_a_fault(string eta) =>
        Assert.Equal(["/eta"], PointersOf($$"""{ "id": "a", "count": 1, "eta": "{{eta}}", "items": [] }"""));

    [Theory]
    [InlineData("0")]
    [InlineData("10")]
    [InlineData("1.5")]
    [InlineData("1e400")]
    [InlineData("\"1\"")]
    [InlineData("null")]
    [InlineData("[1]")]
    public void A_number_out_of_its_range_or_of_another_kind_is_a_fault(string count) =>
        Assert.Equal(["/count"], PointersOf($$"""{ "id": "a", "count": {{count}}, "eta": null, "items": [] }"""));

    [Fact]
    public void A_value_of_the_wrong_kind_is_one_fault_without_faults_below_it() => Assert.Equal([""], PointersOf("[]"));

    // RFC 6901, section 4: ~ is written ~0 and / is written ~1.
    [Fact]
    public void Pointers_are_escaped_as_in_RFC_6901() =>
        Assert.Equal(["/a~1b", "/m~0n"],
            PointersOf("""{ "id": "a", "count": 1, "eta": null, "items": [], "a/b": 0, "m~n": 1 }"""));

    [Theory]
    [InlineData("")]
    [InlineData("  \n")]
    [InlineData("{")]
    [InlineData("{ \"id\": \"a\", }")]
    [InlineData("{} {}")]
    [InlineData("nonsense")]
    public void Text_that_is_not_JSON_is_one_fault_at_the_root(string json) => Assert.Equal([""], PointersOf(json));

    [Fact]
    public void Very_deep_nesting_is_one_fault() => Assert.Equal([""], PointersOf(new string('[', 100_000)));

    [Fact]
    public void Bytes_that_are_not_UTF_8_are_one_fault() =>
        Assert.Equal("", Assert.Single(FaultsOf([.. "{\"id\":\""u8, 0xC3, 0x28, .. "\"}"u8])).Pointer);

    [Fact]
    public void Half_a_surrogate_pair_is_a_fault_in_a_value_and_in_a_name() =>
        Assert.Equal(["/items/0", "/\uFFFD"],
            PointersOf("""{ "id": "a", "count": 1, "eta": null, "items": ["\ud800"], "\udfff": 1 }"""));

    [Fact]
    public void A_byte_order_mark_is_ignored() =>
        Assert.Empty(FaultsOf("\uFEFF{ \"id\": \"a\", \"count\": 1, \"eta\": null, \"items\": [] }"));

    [Fact]
    public void Hostile_text_is_quoted_truncated_and_escaped()
    {
        var hostile = "\\u001b[2J\\u202e<script>" + new string('x', 5000);
        var detail = Assert.Single(FaultsOf($$"""{ "id": "{{hostile}}", "count": 1, "eta": null, "items": [] }""")).Detail;
        Assert.InRange(detail.Length, 20, 300);
        Assert.DoesNotContain('\u001b', detail);

        var word =
            Assert.Single(FaultsOf("""{ "id": "a", "count": 1, "eta": null, "items": ["\u001b[2J\u202e<script>\"\\"] }""")).Detail;
        Assert.Contains("\"\\u001b[2J\\u202e<script>\"\\\"", word);
        Assert.DoesNotContain('\u202e', word);
    }

    /// <summary>Unicode Standard Annex 9, section 2: the marks (U+200F) turn nothing that follows, the others may.</summary>
    [Theory]
    [InlineData("\\u202a", false), InlineData("\\u202e", false), InlineData("\\u2066", false), InlineData("\\u2069", false)]
    [InlineData("\\u200f", true), InlineData("\\u05d0", true), InlineData("\\ud83d\\ude00", true)]
    public void A_text_does_not_turn_what_follows_it(string sign, bool isText) => Assert.Equal(isText ? [] : ["/items/0"],
        PointersOf($$"""{ "id": "a", "count": 1, "eta": null, "items": ["a{{sign}}b"] }"""));

    [Theory]
    [InlineData(5_000)]
    [InlineData(700_000)]
    public void Large_invalid_input_is_answered_quickly_with_a_thousand_faults(int fields)
    {
        var json = Encoding.UTF8
            .GetBytes("{" + string.Join(",", Enumerable.Range(0, fields).Select(number => $"\"x{number}\":0")) + "}");
        var started = Stopwatch.StartNew();
        Assert.Equal(1001, FaultsOf(json).Count);
        // A linear search for duplicates would take minutes.
        Assert.InRange(started.Elapsed.TotalSeconds, 0, 20);
    }

    [Fact]
    public void A_text_longer_than_the_limit_is_not_read() =>
        Assert.Equal("", Assert.Single(FaultsOf(new byte[JsonCursor.MaxBytes + 1])).Pointer);
}
