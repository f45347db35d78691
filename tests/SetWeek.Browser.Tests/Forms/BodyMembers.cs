using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace SetWeek.Browser.Tests.Forms;

/// <summary>
/// The members of an operation's body in the API description, as paths such as "lines/item". The members of a list's items lie
/// below the list; a map of names that the chain chooses has the one member "*".
/// </summary>
internal static partial class BodyMembers
{
    private const string AnyName = "*";

    /// <param name="description">The API description.</param>
    /// <returns>None if the operation reads no JSON.</returns>
    public static IReadOnlySet<string> Of(JsonObject description, string method, string path)
    {
        var members = new HashSet<string>();
        var schema = description["paths"]![path]![method.ToLowerInvariant()]!["requestBody"]?["content"]!
            ["application/json"]?["schema"];
        if (schema is not null) Add(schema, "", []);
        return members;

        void Add(JsonNode schema, string at, IReadOnlyList<string> references)
        {
            if ((string?)schema["$ref"] is { } reference)
            {
                if (references.Contains(reference)) return; // a type that contains itself
                var found = reference.Split('/').Skip(1).Aggregate((JsonNode)description, (node, name) => node[name]!);
                Add(found, at, [.. references, reference]);
            }
            foreach (var choices in (string[])["anyOf", "oneOf", "allOf"])
                foreach (var choice in schema[choices]?.AsArray() ?? []) Add(choice!, at, references);
            foreach (var inner in (string[])["items", "then", "else"])
                if (schema[inner] is JsonObject other) Add(other, at, references);
            if (schema["additionalProperties"] is JsonObject value) AddMember(AnyName, value, at, references);
            foreach (var (name, member) in schema["properties"]?.AsObject() ?? []) AddMember(name, member!, at, references);
        }

        void AddMember(string name, JsonNode member, string at, IReadOnlyList<string> references)
        {
            members.Add(Below(at, name));
            Add(member, Below(at, name), references);
        }
    }

    /// <summary>
    /// The member that a field of a form fills in: "lines/item" of "lines[0].item:row", and "skills/*" of
    /// "skills.{:skill}:number", whose last level another field names. Null if the body has none.
    /// </summary>
    public static string? Of(string field, IReadOnlySet<string> members)
    {
        var (at, name) = ("", Named().Replace(field, AnyName).Split(':')[0]);
        foreach (var level in Row().Replace(name, "").Split('.').Select(Uri.UnescapeDataString))
        {
            at = new[] { level, AnyName }.Select(one => Below(at, one)).FirstOrDefault(members.Contains) ?? "";
            if (at == "") return null;
        }
        return at;
    }

    /// <summary>The members that no field fills in, not even in part. What lies below one of them is not named.</summary>
    public static IEnumerable<string> Missing(IReadOnlySet<string> members, IReadOnlySet<string> filled)
    {
        var missing = members.Where(member => !filled.Any(one => IsWithin(one, member) || IsWithin(member, one))).ToList();
        return missing.Where(member => !missing.Any(outer => outer != member && IsWithin(member, outer)));
    }

    private static bool IsWithin(string member, string outer) =>
        member == outer || member.StartsWith($"{outer}/", StringComparison.Ordinal);

    private static string Below(string at, string name) => at == "" ? name : $"{at}/{name}";

    [GeneratedRegex(@"\[\d+\]")]
    private static partial Regex Row();

    [GeneratedRegex(@"\{[^{}]+\}")]
    private static partial Regex Named();
}
