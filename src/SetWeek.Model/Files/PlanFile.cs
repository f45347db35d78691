using OneOf;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Files.Texts;
using SetWeek.Model.Files.Validation;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files;

/// <summary>Reads and writes plan files (docs/formats.md, docs/schemas/plan.schema.json).</summary>
public static class PlanFile
{
    /// <summary>
    /// Reads a plan of the week. The result has the right shape and refers only to ids of the week, but it may break rules.
    /// </summary>
    /// <param name="json">The bytes of the file, UTF-8.</param>
    /// <param name="week">The valid week that the plan is for.</param>
    /// <returns>The plan, or every fault of the file.</returns>
    public static OneOf<Plan, FaultReport> Read(ReadOnlyMemory<byte> json, Week week) => JsonCursor.Read(json, cursor =>
    {
        var plan = PlanReader.Plan(cursor);
        cursor.AddFaults(PlanFaults.Of(plan, week));
        return plan;
    });

    /// <summary>
    /// Reads a plan that was published before the week changed. It may name people, tasks and modes that the week no longer
    /// has; a re-plan skips them. <see cref="ReplanFile"/> refuses a re-plan in which work on them has begun.
    /// </summary>
    /// <param name="json">The bytes of the file, UTF-8.</param>
    /// <param name="week">The week as it now is.</param>
    /// <returns>The plan, or every fault of the file.</returns>
    public static OneOf<Plan, FaultReport> ReadPublished(ReadOnlyMemory<byte> json, Week week) => JsonCursor.Read(json, cursor =>
    {
        var plan = PlanReader.Plan(cursor);
        cursor.AddFaults(PlanFaults.PlanWideFaults(plan, week).OfType<Fault>().Concat(PlanFaults.DuplicateStints(plan)));
        return plan;
    });

    /// <summary>The bytes of the plan's file, UTF-8. Equal plans give equal bytes.</summary>
    public static byte[] Write(Plan plan) => PlanWriter.Of(plan);
}
