using OneOf;

namespace SetWeek.Scheduling.Files;

public static class WeekFile
{
    /// <summary>A valid week, or everything wrong with the file.</summary>
    public static OneOf<Week, Faults> Read(ReadOnlyMemory<byte> json) => throw new NotSupportedException();

    public static byte[] Write(Week week) => throw new NotSupportedException();
}
