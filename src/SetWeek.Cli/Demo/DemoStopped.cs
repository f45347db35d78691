using SetWeek.Model.Json;

namespace SetWeek.Cli.Demo;

/// <summary>A step of the demo failed; the message is the reason.</summary>
internal sealed class DemoStopped(string why) : Exception(why)
{
    public static DemoStopped Unreadable(string what, FaultReport faults) =>
        new($"The {what} cannot be read: {faults.All[0].Pointer}: {faults.All[0].Detail}");
}
