using SetWeek.Model.Json;

namespace SetWeek.Cli.Demo;

/// <summary>A step of the demo failed; the message is the reason.</summary>
internal sealed class DemoStopped(string why) : Exception(why)
{
    /// <param name="kind">What was read, to name it in the message.</param>
    public static DemoStopped Unreadable(string kind, FaultReport faults) =>
        new($"The {kind} cannot be read: {faults.All[0].Pointer}: {faults.All[0].Detail}");
}
