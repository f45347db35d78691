using OneOf;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Files.Texts;
using SetWeek.Model.Files.Validation;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files;

/// <summary>A plan as a file (docs/formats.md, docs/schemas/plan.schema.json).</summary>
public static class PlanFile
{
    /// <summary>A plan whose shape is right and whose ids its week knows; it may still break rules.</summary>
    public static OneOf<Plan, FaultReport> Read(ReadOnlyMemory<byte> json, Week week) => JsonCursor.Read(json, cursor =>
    {
        var plan = PlanReader.Plan(cursor);
        cursor.AddFaults(PlanFaults.Of(plan, week));
        return plan;
    });

    /// <summary>
    /// A plan that was published before the week became what it is now: it may name people, tasks and modes that are gone,
    /// and a re-plan passes over those (<see cref="ReplanFile"/> refuses where work on them has begun).
    /// </summary>
    public static OneOf<Plan, FaultReport> ReadPublished(ReadOnlyMemory<byte> json, Week week) => JsonCursor.Read(json, cursor =>
    {
        var plan = PlanReader.Plan(cursor);
        cursor.AddFaults(PlanFaults.PlanWideFaults(plan, week).OfType<Fault>().Concat(PlanFaults.DuplicateStints(plan)));
        return plan;
    });

    /// <summary>The same plan gives the same bytes.</summary>
    public static byte[] Write(Plan plan) => PlanWriter.Of(plan);
}
