using SetWeek.Service.Tests.Architecture.Cycle.Right;

namespace SetWeek.Service.Tests.Architecture.Cycle.Left;

/// <summary>Refers to the other folder in the body of a lambda only, which is hard to detect.</summary>
internal static class LeftType
{
    public static Func<int> Deferred(int number) => () => RightType.Twice(number);

    public static int Once(int number) => number;
}
