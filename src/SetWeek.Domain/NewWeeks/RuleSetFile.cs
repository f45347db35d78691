using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.NewWeeks;

/// <summary>
/// A rule set of ops/rule-sets: parameters of the rules for one place, each with its citation. No legal advice.
/// </summary>
public sealed record RuleSetFile(string Id, string Title, string Place, string Note, IReadOnlyList<CitedRule> Cited)
{
    private const int MostNumbers = 100, LongestText = 1000;

    /// <summary>The rule sets that the service comes with, in the order of their ids.</summary>
    public static IReadOnlyList<RuleSetFile> All { get; } =
        [.. ReadBuilt().OrderBy(set => set.Id, StringComparer.Ordinal)];

    public required RuleSet Rules { get; init; }

    private static IEnumerable<RuleSetFile> ReadBuilt()
    {
        var assembly = typeof(RuleSetFile).Assembly;
        foreach (var name in assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith("rule-sets/", StringComparison.Ordinal)))
        {
            using var data = assembly.GetManifestResourceStream(name)!;
            using var bytes = new MemoryStream();
            data.CopyTo(bytes);
            yield return JsonCursor.Read(bytes.ToArray(), root => root.Object(Read)).Match(set => set,
                faults => throw new InvalidDataException($"{name}: {string.Join(" ", faults.All)}"));
        }
    }

    private static RuleSetFile Read(JsonFields json)
    {
        var numbers = json.List("numbers", number => number.Object(of => (
            Cited: new CitedRule(of.Text("rule"), of.Text("citation", LongestText), of.Text("read")),
            Value: of.Required("value").RawElement())), MostNumbers);
        json.Int("version", 1, int.MaxValue);
        return new RuleSetFile(json.Id("id"), json.Text("title"), json.Text("place"), json.Text("note", LongestText),
            [.. numbers.Select(number => number.Cited)])
        {
            Rules = RulesOf(numbers.Select(number => (number.Cited.Rule, number.Value))),
        };
    }

    /// <param name="numbers">
    /// The values by the fields of a week file's rules; "under18.until" is a field of an inner object.
    /// </param>
    private static RuleSet RulesOf(IEnumerable<(string Rule, JsonElement Value)> numbers)
    {
        var rules = new JsonObject();
        foreach (var (rule, value) in numbers)
        {
            var path = rule.Split('.');
            var inner = path[..^1].Aggregate(rules, (at, level) => (JsonObject)(at[level] ??= new JsonObject()));
            inner[path[^1]] = JsonNode.Parse(value.GetRawText());
        }
        return JsonCursor.Read(Encoding.UTF8.GetBytes(rules.ToJsonString()), cursor => RuleReader.Rules(cursor)).Match(
            read => read, faults => throw new InvalidDataException(string.Join(" ", faults.All)));
    }
}

/// <summary>Where a parameter of a rule set comes from.</summary>
/// <param name="Rule">A field of a week file's rules, with a dot for a field of "under18".</param>
/// <param name="Read">How the number was read: "the text itself", "from memory".</param>
public sealed record CitedRule(string Rule, string Citation, string Read);
