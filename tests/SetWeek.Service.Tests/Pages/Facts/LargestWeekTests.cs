using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Facts;
using SetWeek.Service.Pages.Trials;
using SetWeek.Service.Tests.Pages.Weeks;

namespace SetWeek.Service.Tests.Pages.Facts;

/// <summary>The limits of a week (docs/formats.md): 60 people, 21 nights, 500 tasks. The pages with forms stay short.</summary>
public sealed class LargestWeekTests
{
    private const int Most = 400_000;

    private static readonly WeekForms Forms = FormsOf(WeekPageTests.Largest().Week);

    [Fact]
    public async Task The_list_of_facts_stays_short() =>
        Assert.InRange((await Page<FactsPage, FactsPage.Facts>(new(Forms, [], null))).Length, 10_000, Most);

    [Fact]
    public async Task The_forms_stay_short()
    {
        string[] pages =
        [
            await Page<PersonFactsPage, PersonFactsPage.Person>(new(Forms, Forms.Crew.Members[0])),
            await Page<TaskFactsPage, TaskFactsPage.OneTask>(new(Forms, null)),
            await Page<DisplayFactsPage, DisplayFactsPage.OneDisplay>(new(Forms, Forms.Week.Displays[0])),
            await Page<PinFactsPage, WeekForms>(Forms),
            await Page<WhatIfPage, WhatIfPage.Draft>(new(Forms, ChangeKinds.Of(Forms.Week), "[]", [], [])),
        ];
        Assert.All(pages, page => Assert.InRange(page.Length, 5_000, Most));
    }

    private static Task<string> Page<TPage, TModel>(TModel model) where TPage : PageComponent<TModel> =>
        PageRenderer.Render<TPage, TModel>(model);

    private static WeekForms FormsOf(Week week) => new("First Rain", StoreWeek.Evolve(null,
        new WeekOpened("first-rain", 1, week with { Crew = [] }, [.. week.Crew.Select(member => member.Id)], []))!,
        new CrewFile(week.Id, week.Crew), week, Role.Lead)
    {
        Acts = new FormActs("token", "\"1\"", "key"),
    };
}
