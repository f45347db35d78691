using OneOf;

namespace SetWeek.Scheduling.Files;

public static class PlanFile
{
    /// <summary>A plan whose shape is right and whose ids its week knows; it may still break rules.</summary>
    public static OneOf<Plan, Faults> Read(ReadOnlyMemory<byte> json, Week week) => throw new NotSupportedException();

    public static byte[] Write(Plan plan) => throw new NotSupportedException();
}
