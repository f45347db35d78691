using System.Globalization;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Printing.Sheets;
using static SetWeek.Service.Tests.Printing.PaperWeek;

namespace SetWeek.Service.Tests.Printing.Sheets;

/// <summary>What all sheets have in common.</summary>
public sealed class SheetTests
{
    /// <summary>Pip is under 18 and goes by 22:00: the sheets say when, and not why. Nobody's pay is on any.</summary>
    [Fact]
    public void No_sheet_has_pay_ages_reasons_or_codes()
    {
        var absent = new PersonAbsent("idris", "night-4");
        foreach (var night in Demo.Nights)
            foreach (var sheet in SheetKind.All.SelectMany(kind => kind.Print(DemoNight(night.Id, absent), null)))
            {
                // What the direction says of the work is no word about a person.
                var text = Demo.Tasks.SelectMany(task => task.Cautions.Concat(task.Steps).Concat(task.Checks))
                    .OrderByDescending(said => said.Length).Aggregate(TextOf(sheet), (all, said) => all.Replace(said, ""));
                Assert.DoesNotMatch(@"(?i)£|\b(wages?|pay|paid|rates?|aged?|minor|ill|under.?18|pin|passwords?)\b", text);
                foreach (var rate in Demo.Crew.Select(member => member.RatePerHour.ToString(CultureInfo.InvariantCulture)))
                    Assert.DoesNotContain(rate, text, StringComparison.Ordinal);
                Assert.Contains("Local law and local codes", text, StringComparison.OrdinalIgnoreCase);
                Assert.Contains("Europe/London", text, StringComparison.Ordinal);
            }
        Assert.Contains("Pip Arden, home by 22:00", TextOf(Print(DemoNight("night-4", absent), "lead")[0]));
        Assert.Contains("Not here tonight: Idris Polk.", TextOf(Print(DemoNight("night-4", absent), "lead")[0]));
    }
}
