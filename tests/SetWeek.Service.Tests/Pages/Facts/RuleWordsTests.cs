using System.Text.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Pages.Facts;

namespace SetWeek.Service.Tests.Pages.Facts;

/// <summary>The form sends all rules at once: a number that the words lack would be switched off by whoever sends it.</summary>
public sealed class RuleWordsTests
{
    [Fact]
    public void Each_number_of_the_rules_has_its_words()
    {
        var rules = Numbered<RuleSet>();
        Assert.Equal(NumbersOf(rules), Sorted(RuleWords.Numbers(rules)));
        Assert.Equal([nameof(RuleSet.Company), nameof(RuleSet.KeyholderPresent), nameof(RuleSet.Under18)], OthersOf<RuleSet>());
    }

    [Fact]
    public void Each_number_for_people_under_18_has_its_words()
    {
        var rules = Numbered<Under18Rules>();
        Assert.Equal(NumbersOf(rules), Sorted(RuleWords.Young(rules)));
        Assert.Equal([nameof(Under18Rules.Barred), nameof(Under18Rules.Until)], OthersOf<Under18Rules>());
    }

    /// <summary>A record whose numbers all differ.</summary>
    private static T Numbered<T>() where T : new()
    {
        var numbered = new T();
        foreach (var (index, property) in typeof(T).GetProperties().Index())
            if (property.PropertyType == typeof(int?)) property.SetValue(numbered, 100 + index);
        return numbered;
    }

    private static IEnumerable<(string Name, int? Value)> NumbersOf<T>(T rules) => typeof(T).GetProperties()
        .Where(property => property.PropertyType == typeof(int?))
        .Select(property => (JsonNamingPolicy.CamelCase.ConvertName(property.Name), (int?)property.GetValue(rules))).Order();

    /// <summary>What the page has a field for beside the numbers.</summary>
    private static IEnumerable<string> OthersOf<T>() => typeof(T).GetProperties()
        .Where(property => property.PropertyType != typeof(int?)).Select(property => property.Name).Order(StringComparer.Ordinal);

    private static IEnumerable<(string Name, int? Value)> Sorted(IEnumerable<(string Name, string Label, int? Value)> words) =>
        words.Select(number => (number.Name, number.Value)).Order();
}
