using System.Text;
using System.Text.Json;
using Json.Schema;
using NodaTime;
using SetWeek.Model.Files;
using SetWeek.Model.Json;

namespace SetWeek.Planning.Tests.Files;

/// <summary>
/// The schemas of docs/schemas and the readers say the same of the shape of a file; the schemas are evaluated by JsonSchema.Net
/// as JSON Schema 2020-12 defines them.
/// </summary>
public class SchemaTests
{
    private static readonly JsonSchema WeekSchema = Load("week"), PlanSchema = Load("plan"), ProgressSchema = Load("progress");

    /// <summary>
    /// What only the meaning of a whole file shows: how those sentences begin, or what they contain. A schema cannot see
    /// these.
    /// </summary>
    private static readonly string[] SeenByMeaningAlone =
    [
        "There is no ", "is already used", "form a cycle", "The role asks for", "These roles together ask",
        "closes no later", "ends no later", "ends before it begins", "reaches outside night", "before night",
        "is not after the first night",
        "is not a time zone", "is not a multiple of gridMinutes", "is longer than the longest", "its length is missing",
        "does not enclose", "asked for twice", "damaged", "This is a plan of", "is given twice; merge", "is planned twice",
        "Running work needs the time", "which is not before now", "Only blocked work can have", "Only running or blocked work",
        "A clean-down can only be done",
        "The published plan has", "counted from", "now; the ", "already reported", "Done work must have ended",
        "Only one task can be last", "its own alternate",
        "is already the alternate of", "has an alternate itself",
    ];

    [Fact]
    public void The_examples_fit_their_schemas()
    {
        Assert.Empty(ErrorsOf(WeekSchema, Parse(ExampleFiles.Read("bell-yard.week.json"))));
        Assert.Empty(ErrorsOf(PlanSchema, Parse(ExampleFiles.Read("bell-yard.plan.json"))));
        Assert.Empty(ErrorsOf(ProgressSchema, Parse(ExampleFiles.Read("bell-yard.progress.json"))));
        foreach (var week in new[] { "harbour-street", "mill-lane" })
            Assert.Empty(ErrorsOf(WeekSchema, Parse(ExampleFiles.Read($"{week}.week.json"))));
    }

    [SharedFact]
    public void The_small_week_and_its_plan_fit_their_schemas()
    {
        Assert.Empty(ErrorsOf(WeekSchema, Parse(SharedFactAttribute.Read("small.week.json"))));
        Assert.Empty(ErrorsOf(PlanSchema, Parse(SharedFactAttribute.Read("small.plan.json"))));
    }

    [Fact]
    public void What_is_written_fits_the_schemas()
    {
        Assert.Empty(ErrorsOf(WeekSchema, Parse(WeekFile.Write(ExampleFiles.Week))));
        Assert.Empty(ErrorsOf(PlanSchema, Parse(PlanFile.Write(ExampleFiles.Plan))));
        Assert.Empty(ErrorsOf(PlanSchema, Parse(PlanFile.Write(PlanSamples.WithoutAPlan))));
        Assert.Equal(PlanSamples.WithoutAPlan.Repairs.Count,
            PlanFile.Read(PlanFile.Write(PlanSamples.WithoutAPlan), ExampleFiles.Week).AsT0.Repairs.Count);
    }

    [Fact]
    public void Week_files_changed_in_one_place_are_judged_alike() =>
        Agree(WeekSchema, JsonMutations.Of(ExampleFiles.Read("bell-yard.week.json"), othersEach: 1), WeekFile.Read, atLeast: 600);

    [Fact]
    public void Plan_files_changed_in_one_place_are_judged_alike()
    {
        Agree(PlanSchema, JsonMutations.Of(ExampleFiles.Read("bell-yard.plan.json"), othersEach: 1),
            json => PlanFile.Read(json, ExampleFiles.Week), atLeast: 300);
        Agree(PlanSchema, JsonMutations.Of(PlanFile.Write(PlanSamples.WithoutAPlan), othersEach: 4),
            json => PlanFile.Read(json, ExampleFiles.Week), atLeast: 200);
    }

    [Fact]
    public void Progress_files_changed_in_one_place_are_judged_alike() =>
        Agree(ProgressSchema, JsonMutations.Of(ExampleFiles.Read("bell-yard.progress.json"), othersEach: 13),
            json => ReplanFile.Read(ExampleFiles.Week, ExampleFiles.Plan, new LocalDateTime(2027, 3, 11, 21, 35), json), atLeast: 150);

    private static void Agree<T>(
        JsonSchema schema, IEnumerable<JsonMutations.Mutation> mutations, Func<ReadOnlyMemory<byte>, OneOf.OneOf<T, FaultReport>> read,
        int atLeast)
    {
        var (wrong, count) = (new List<string>(), 0);
        foreach (var mutation in mutations)
        {
            count++;
            var errors = ErrorsOf(schema, mutation.Text);
            var faults = read(Encoding.UTF8.GetBytes(mutation.Text.GetRawText())).Match(_ => [], found => found.All);
            var shape = faults.Where(fault => !SeenByMeaningAlone.Any(fault.Detail.Contains)).ToList();
            if (errors.Count == 0 && shape.Count > 0)
                wrong.Add($"{mutation.What}: the schema is content, the reader says at {shape[0].Pointer}: {shape[0].Detail}");
            if (errors.Count > 0 && !faults.Any(fault => errors.Contains(fault.Pointer)))
                wrong.Add($"{mutation.What}: the schema says {string.Join(", ", errors)}, the reader "
                    + string.Join(", ", faults.Select(fault => $"{fault.Pointer}: {fault.Detail}")));
        }
        Assert.Equal([], wrong.Take(20));
        Assert.InRange(count, atLeast, int.MaxValue);
    }

    /// <summary>Where the schema is not kept; what is missing counts as wrong at its own place, as the readers have it.</summary>
    private static HashSet<string> ErrorsOf(JsonSchema schema, JsonElement json)
    {
        var results = schema.Evaluate(json, new EvaluationOptions { OutputFormat = OutputFormat.List });
        if (results.IsValid) return [];
        var places = new HashSet<string>();
        foreach (var result in results.Details ?? [])
            foreach (var (keyword, _) in result.Errors ?? new Dictionary<string, string>())
            {
                var at = result.InstanceLocation.ToString();
                if (keyword == "required") places.UnionWith(Missing(at, json));
                else places.Add(at);
            }
        return places;
    }

    /// <summary>JsonSchema.Net says that fields are missing, not which; any known field that is not there will do.</summary>
    private static IEnumerable<string> Missing(string at, JsonElement json) =>
        Names.Where(name => !Json.Pointer.JsonPointer.Parse($"{at}/{name}").Evaluate(json).HasValue)
            .Select(name => $"{at}/{name}");

    private static readonly string[] Names =
        [.. new[] { "week", "plan", "progress" }.SelectMany(schema => Properties(Parse(File.ReadAllBytes(PathOf(schema)))))
            .Distinct()];

    private static IEnumerable<string> Properties(JsonElement schema) => schema.ValueKind switch
    {
        JsonValueKind.Object => schema.EnumerateObject().SelectMany(property =>
            property.NameEquals("properties") ? property.Value.EnumerateObject().Select(field => field.Name)
                .Concat(Properties(property.Value)) : Properties(property.Value)),
        JsonValueKind.Array => schema.EnumerateArray().SelectMany(Properties),
        _ => [],
    };

    private static JsonElement Parse(byte[] json) => JsonDocument.Parse(json).RootElement;
    private static JsonSchema Load(string name) => JsonSchema.FromText(File.ReadAllText(PathOf(name)));
    private static string PathOf(string name) => Path.Combine(ExampleFiles.Root, "docs/schemas", $"{name}.schema.json");
}
