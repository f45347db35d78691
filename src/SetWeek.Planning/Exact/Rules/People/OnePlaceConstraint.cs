using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="OnePlaceRule"/> in the exact model.</summary>
internal static class OnePlaceConstraint
{
    public static void Post(CpWeekModel model) => model.NoOverlapPerPerson = true;
}
