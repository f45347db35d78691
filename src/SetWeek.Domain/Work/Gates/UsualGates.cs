using SetWeek.Model.Json;

namespace SetWeek.Domain.Work.Gates;

/// <summary>
/// The gates of all work, by trait and equipment. They are data with citations (usual-gates.json), so that a chain reviews and
/// changes them without reading code. A direction's own checks and cautions come besides.
/// </summary>
/// <param name="Before">Asked before a start.</param>
/// <param name="After">Asked on a finish.</param>
public sealed record UsualGates(IReadOnlyList<Gate> Before, IReadOnlyList<Gate> After, AirLimits Air)
{
    private const int MostGates = 50, MostWords = 20, LongestText = 500;

    private static readonly Lazy<UsualGates> Built = new(ReadBuilt);

    /// <summary>The gates that come with the service.</summary>
    public static UsualGates Known => Built.Value;

    /// <exception cref="InvalidDataException">The data is not valid.</exception>
    public static UsualGates Read(ReadOnlyMemory<byte> json) => JsonCursor.Read(json, root => root.Object(Read)).Match(
        gates => gates, faults => throw new InvalidDataException(
            string.Join(" ", faults.All.Select(fault => $"{fault.Pointer}: {fault.Detail}"))));

    private static UsualGates Read(JsonFields json)
    {
        (_, _, _) = (json.Id("id"), json.Int("version", 1, 1000), json.Text("note", LongestText));
        return new UsualGates(json.List("before", ReadGate, MostGates), json.List("after", ReadGate, MostGates),
            json.Object("air", ReadAir));
    }

    private static Gate ReadGate(JsonCursor gate) => gate.Object(json => new Gate(
        json.Id("id"), json.Text("text"), Words(json, "traits"), Words(json, "equipment"), json.Text("citation", LongestText),
        ReadHow(json)));

    private static AirLimits ReadAir(JsonFields json)
    {
        var air = new AirLimits(Words(json, "traits"), json.Int("leastDegreesCelsius", -50, 100),
            json.Int("mostDegreesCelsius", -50, 100), json.Int("mostMoisturePercent", 0, 100), json.Text("citation", LongestText),
            json.Object("drying", ReadDrying));
        ReadHow(json);
        return air;
    }

    private static AirDrying ReadDrying(JsonFields json)
    {
        var steps = json.List("steps", step => step.Object(fields =>
            new DryingStep(fields.Int("mostMoisturePercent", 0, 100), fields.Int("percent", 100, 1000))), MostGates);
        var citation = json.Text("citation", LongestText);
        ReadHow(json);
        return new AirDrying([.. steps.OrderBy(step => step.MostMoisturePercent)], citation);
    }

    private static string ReadHow(JsonFields json) =>
        json.Choice("read", "the text itself", "a summary", "from memory", Gate.NoSource);

    private static IReadOnlyList<string> Words(JsonFields json, string name) => json.List(name, word => word.Word(), MostWords);

    private static UsualGates ReadBuilt()
    {
        using var data = typeof(UsualGates).Assembly.GetManifestResourceStream("usual-gates.json")!;
        using var bytes = new MemoryStream();
        data.CopyTo(bytes);
        return Read(bytes.ToArray());
    }
}
