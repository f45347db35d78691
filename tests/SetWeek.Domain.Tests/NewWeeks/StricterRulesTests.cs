using System.Reflection;
using NodaTime;
using SetWeek.Domain.NewWeeks;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Tests.NewWeeks;

/// <summary>Two records are combined by hand, so each of their properties is looked at here.</summary>
public class StricterRulesTests
{
    [Theory]
    [InlineData(true), InlineData(false)]
    public void A_limit_that_one_set_alone_gives_is_kept(bool isFirst)
    {
        var all = Filled<RuleSet>() with { Under18 = Filled<Under18Rules>() };
        var rules = StricterRules.Of(isFirst ? [all, new RuleSet()] : [new RuleSet(), all]);
        AssertSame(all with { Under18 = null }, rules with { Under18 = null });
        AssertSame(all.Under18, rules.Under18!);
    }

    [Fact]
    public void A_limit_for_people_under_18_that_one_set_alone_gives_is_kept()
    {
        var all = Filled<Under18Rules>();
        foreach (var sets in new Under18Rules[][] { [all, new()], [new(), all] })
            AssertSame(all, StricterRules.Of(sets.Select(young => new RuleSet { Under18 = young })).Under18!);
    }

    /// <summary>A record in which no property has the value that it begins with.</summary>
    private static T Filled<T>() where T : new()
    {
        var filled = new T();
        foreach (var property in typeof(T).GetProperties()) property.SetValue(filled, ValueFor(property));
        return filled;
    }

    private static object ValueFor(PropertyInfo property) => property.PropertyType switch
    {
        var type when type == typeof(int?) => 7,
        var type when type == typeof(bool) => true,
        var type when type == typeof(LocalTime?) => new LocalTime(21, 0),
        var type when type == typeof(IReadOnlyList<string>) => (string[])["ladder"],
        var type when type == typeof(IReadOnlyList<CompanyRequirement>) => (CompanyRequirement[])[new("ladder", 2)],
        var type when type == typeof(Under18Rules) => new Under18Rules(),
        var type => throw new NotSupportedException($"Say here what a property of type {type} is filled with."),
    };

    /// <summary>Compares property by property: equality of a record compares lists by reference.</summary>
    private static void AssertSame<T>(T expected, T actual) => Assert.All(typeof(T).GetProperties(),
        property => Assert.Equal(property.GetValue(expected), property.GetValue(actual)));
}
