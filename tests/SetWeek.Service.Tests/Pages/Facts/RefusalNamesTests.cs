using SetWeek.Service.Tests.Access;
using static SetWeek.Service.Tests.Pages.Facts.FactsDesk;

namespace SetWeek.Service.Tests.Pages.Facts;

/// <summary>A page that refuses a form names people as people do.</summary>
[Collection(ServiceCollection.Name)]
public sealed class RefusalNamesTests(RunningService service)
{
    [Fact]
    public async Task Whoever_is_absent_already_is_named()
    {
        using var lead = await Lead();
        var page = await Page(lead, $"{FactsAddress}/crew/p3");
        await lead.PressButton(page, "Record the absence", ("night", "tuesday"));
        Refuses(await lead.PressButton(Again(page), "Record the absence", ("night", "tuesday")),
            "Cleo Strand is already marked absent for the night of Tue 9 Mar.");
        page = await Page(lead, $"{FactsAddress}/crew/p3");
        await lead.PressButton(page, "Comes after all");
        Refuses(await lead.PressButton(Again(page), "Comes after all"),
            "Cleo Strand is not marked absent for the night of Tue 9 Mar; there is nothing to take back.");
    }

    [Fact]
    public async Task A_change_that_changes_nothing_names_the_person()
    {
        using var lead = await Lead();
        Refuses(await lead.PressButton(await Page(lead, $"{FactsAddress}/crew/p3"), "Keep these particulars"),
            "Cleo Strand already has these values; there is nothing to change.");
    }

    /// <summary>Two leads add somebody at the same time. The page that comes back has another id, so that it can be sent.</summary>
    [Fact]
    public async Task Whoever_has_joined_already_is_named()
    {
        using var lead = await Lead();
        var page = await Page(lead, $"{FactsAddress}/crew");
        (string, string)[] pay = [("ratePerHour:number", "1200"), ("skills.dressing:number", "1")];
        await lead.PressButton(page, "Add to the crew", [("name", "Dara Quill"), .. pay]);
        var second = await lead.PressButton(Again(page), "Add to the crew", [("name", "Noor Vane"), .. pay]);
        Refuses(second, "Dara Quill already belongs to this crew");
        Assert.Equal(303, (await lead.PressButton(second.Text, "Add to the crew")).Status);
        Assert.Contains("Noor Vane", await Page(lead, FactsAddress));
    }

    private async Task<Browser> Lead() => (await Opened(service)).Lead;

    /// <summary>The page as another lead has it: with another idempotency key.</summary>
    private static string Again(string page) => page.Replace("name=\":key\"", "name=\":other\"");

    private static void Refuses(ApiResponse answer, string sentence)
    {
        Assert.Equal((409, "text/html"), (answer.Status, answer.ContentType));
        Assert.Contains(sentence, answer.Text);
        Assert.DoesNotContain("&quot;p", answer.Text);
    }
}
