using SetWeek.Service.Tests.House.Circle.Right;

namespace SetWeek.Service.Tests.House.Circle.Left;

/// <summary>Refers to the other folder only in the body of a lambda: the hardest reference to see.</summary>
internal static class LeftType
{
    public static Func<int> Deferred(int number) => () => RightType.Twice(number);

    public static int Once(int number) => number;
}
