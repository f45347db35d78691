using SetWeek.Service.Tests.House.Circle.Left;

namespace SetWeek.Service.Tests.House.Circle.Right;

/// <summary>Refers back only in the body of an iterator.</summary>
internal static class RightType
{
    public static int Twice(int number) => Numbers(number).Sum();

    private static IEnumerable<int> Numbers(int number)
    {
        yield return LeftType.Once(number);
        yield return LeftType.Once(number);
    }
}
