using System.Text;
using System.Text.Json;
using Json.Schema;
using NodaTime;
using SetWeek.Model.Files;
using SetWeek.Model.Json;

namespace SetWeek.Model.Tests.Files;

/// <summary>
/// The schemas of docs/schemas and the readers agree on the shape of a file. JsonSchema.Net evaluates the schemas as JSON
/// Schema 2020-12 defines them.
/// </summary>
public class SchemaTests
{
    private static readonly JsonSchema WeekSchema = Load("week"), PlanSchema = Load("plan"), ProgressSchema = Load("progress");

    /// <summary>
    /// Fragments of the sentences about faults that concern several fields at once. A schema cannot find those faults.
    /// </summary>
    private static readonly string[] BeyondSchemas =
    [
        "There is no ", "is already used", "form a cycle", "The role asks for", "These roles together ask",
        "closes no later", "ends no later", "ends before it begins", "before night",
        "is not after the first night",
        "is not a time zone", "is not a multiple of gridMinutes", "is longer than the longest", "its length is missing", "does not fit a shift",
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
    public void Written_files_fit_the_schemas()
    {
        Assert.Empty(ErrorsOf(WeekSchema, Parse(WeekFile.Write(ExampleFiles.Week))));
        Assert.Empty(ErrorsOf(PlanSchema, Parse(PlanFile.Write(ExampleFiles.Plan))));
        Assert.Empty(ErrorsOf(PlanSchema, Parse(PlanFile.Write(PlanSamples.WithoutAPlan))));
        Assert.Equal(PlanSamples.WithoutAPlan.Repairs.Count,
            PlanFile.Read(PlanFile.Write(PlanSamples.WithoutAPlan), ExampleFiles.Week).AsT0.Repairs.Count);
    }

    [Fact]
    public void Schema_and_reader_agree_on_week_files_changed_in_one_place() =>
        AssertAgreement(WeekSchema, JsonMutations.Of(ExampleFiles.Read("bell-yard.week.json"), othersEach: 1), WeekFile.Read,
            minimumCount: 600);

    [Fact]
    public void Schema_and_reader_agree_on_plan_files_changed_in_one_place()
    {
        AssertAgreement(PlanSchema, JsonMutations.Of(ExampleFiles.Read("bell-yard.plan.json"), othersEach: 1),
            json => PlanFile.Read(json, ExampleFiles.Week), minimumCount: 300);
        AssertAgreement(PlanSchema, JsonMutations.Of(PlanFile.Write(PlanSamples.WithoutAPlan), othersEach: 4),
            json => PlanFile.Read(json, ExampleFiles.Week), minimumCount: 200);
    }

    [Fact]
    public void Schema_and_reader_agree_on_progress_files_changed_in_one_place() =>
        AssertAgreement(ProgressSchema, JsonMutations.Of(ExampleFiles.Read("bell-yard.progress.json"), othersEach: 13),
            json => ReplanFile.Read(ExampleFiles.Week, ExampleFiles.Plan, new LocalDateTime(2027, 3, 11, 21, 35), json),
                minimumCount: 150);

    private static void AssertAgreement<T>(
        JsonSchema schema, IEnumerable<JsonMutations.Mutation> mutations,
        Func<ReadOnlyMemory<byte>, OneOf.OneOf<T, FaultReport>> read,
        int minimumCount)
    {
        var (disagreements, count) = (new List<string>(), 0);
        foreach (var mutation in mutations)
        {
            count++;
            var errors = ErrorsOf(schema, mutation.Text);
            var faults = read(Encoding.UTF8.GetBytes(mutation.Text.GetRawText())).Match(_ => [], found => found.All);
            var shape = faults.Where(fault => !BeyondSchemas.Any(fault.Detail.Contains)).ToList();
            if (errors.Count == 0 && shape.Count > 0)
                disagreements.Add($"{mutation.Description}: the schema accepts it, the reader says at {shape[0].Pointer}: "
                    + shape[0].Detail);
            if (errors.Count > 0 && !faults.Any(fault => errors.Contains(fault.Pointer)))
                disagreements.Add($"{mutation.Description}: the schema says {string.Join(", ", errors)}, the reader "
                    + string.Join(", ", faults.Select(fault => $"{fault.Pointer}: {fault.Detail}")));
        }
        Assert.Equal([], disagreements.Take(20));
        Assert.InRange(count, minimumCount, int.MaxValue);
    }

    /// <summary>
    /// Pointers to the errors that the schema finds. A missing field counts at its own place, as in the readers.
    /// </summary>
    private static HashSet<string> ErrorsOf(JsonSchema schema, JsonElement json)
    {
        var results = schema.Evaluate(json, new EvaluationOptions { OutputFormat = OutputFormat.List });
        if (results.IsValid) return [];
        var places = new HashSet<string>();
        foreach (var result in results.Details ?? [])
            foreach (var (keyword, _) in result.Errors ?? new Dictionary<string, string>())
            {
                var at = result.InstanceLocation.ToString();
                if (keyword == "required") places.UnionWith(AbsentFields(at, json));
                else places.Add(at);
            }
        return places;
    }

    /// <summary>Every known field that is absent: JsonSchema.Net says that fields are missing but not which.</summary>
    private static IEnumerable<string> AbsentFields(string at, JsonElement json) =>
        KnownNames.Where(name => !global::Json.Pointer.JsonPointer.Parse($"{at}/{name}").Evaluate(json).HasValue)
            .Select(name => $"{at}/{name}");

    private static readonly string[] KnownNames =
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
