using SetWeek.Service.Tests.Architecture.Cycle.Left;

namespace SetWeek.Service.Tests.Architecture.Cycle.Right;

/// <summary>Refers back in the body of an iterator only.</summary>
internal static class RightType
{
    public static int Twice(int number) => Numbers(number).Sum();

    private static IEnumerable<int> Numbers(int number)
    {
        yield return LeftType.Once(number);
        yield return LeftType.Once(number);
    }
}
