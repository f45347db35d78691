using NodaTime;
using OneOf;

namespace SetWeek.Scheduling.Files;

public static class ReplanFile
{
    /// <summary>A re-plan that fits its week, or everything wrong with it; pointers are into the progress file.</summary>
    public static OneOf<Replan, Faults> Read(Week week, Plan published, LocalDateTime now, ReadOnlyMemory<byte> progress) =>
        throw new NotSupportedException();
}
