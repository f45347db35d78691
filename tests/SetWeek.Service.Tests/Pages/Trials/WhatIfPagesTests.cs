using System.Net;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Trials;

/// <summary>A lead tries changes on a page, sees what they would give, and accepts them.</summary>
[Collection(ServiceCollection.Name)]
public sealed class WhatIfPagesTests(RunningService service)
{
    private const string WhatIf = $"{Address}/what-if";

    [Fact]
    public async Task Changes_are_picked_tried_and_accepted()
    {
        var (week, lead) = await Opened();
        await week.PlanAndPublish();
        var before = await week.ETag();
        var one = await Read(lead, $"{WhatIf}?was=[]&kind=kit&kit=forms&eta=2027-03-10T12:00");
        Assert.Contains("The kit “Forms” arrives by Wed 10 Mar 12:00.", WebUtility.HtmlDecode(one));
        var two = await Read(lead, Added(one, "kind=window&night=wednesday&closes=2027-03-11T01:00"));
        Assert.Equal(2, WebUtility.HtmlDecode(two).Split("Take it out").Length - 1);

        var tried = await lead.PressButton(two, "Try these changes", ("seconds:number", "1"));
        var result = WebUtility.HtmlDecode(tried.Text);
        Assert.Equal((200, "text/html"), (tried.Status, tried.ContentType));
        Assert.Contains("With these changes there is a plan", result);
        Assert.Contains("The week as published", result);
        Assert.Contains("Set the forms: Wednesday 10 March", result);
        Assert.Contains("Wages", result);
        Assert.Equal(before, await week.ETag()); // nothing is stored

        var accepted = await lead.PressButton(tried.Text, "Accept these changes, and plan");
        Assert.Equal(303, accepted.Status);
        Assert.Equal("ready", (string?)(await week.Settled(accepted.Location!))["state"]);
        Assert.Equal("2027-03-10T12:00", (string?)(await week.Week())["kits"]![0]!["eta"]);
    }

    [Fact]
    public async Task A_change_that_does_not_fit_is_not_added_and_the_page_says_why()
    {
        var (_, lead) = await Opened();
        var page = WebUtility.HtmlDecode(await Read(lead,
            $"{WhatIf}?was=[{{\"kind\":\"leaveOut\",\"display\":\"wall\"}}]&kind=window&night=monday&closes=2027-03-08T19:00"));
        Assert.Contains("The last change was not added.", page);
        Assert.Single(page.Split("Take it out")[1..]);
        Assert.Contains("Nothing is picked yet.", await Read(lead, $"{WhatIf}?was=nonsense"));
        Assert.Contains("The list does not fit the week as it is now.",
            await Read(lead, $"{WhatIf}?was=[{{\"kind\":\"leaveOut\",\"display\":\"gone\"}}]"));
    }

    [Fact]
    public async Task Without_a_plan_the_page_says_why_and_what_would_help()
    {
        var (_, lead) = await Opened();
        var tried = await lead.PressButton(await Read(lead, $"{WhatIf}?was=[]&kind=kit&kit=forms&eta="),
            "Try these changes", ("seconds:number", "2"));
        var result = WebUtility.HtmlDecode(tried.Text);
        Assert.Contains("With these changes there is no plan: that is proven.", result);
        Assert.Contains("It is not known when the kit “Forms” will arrive", result);
    }

    [Fact]
    public async Task A_refused_trial_keeps_the_list_and_what_was_typed()
    {
        var (_, lead) = await Opened();
        var tried = await lead.PressButton(await Read(lead, $"{WhatIf}?was=[]&kind=leaveOut&display=wall"),
            "Try these changes", ("seconds:number", "100"));
        var page = WebUtility.HtmlDecode(tried.Text);
        Assert.Equal(400, tried.Status);
        Assert.Contains("Take it out", page);
        Assert.Contains("value=\"100\" aria-invalid=\"true\"", page);
    }

    /// <summary>The address of a form that gets: the list so far, with the fields of one more change.</summary>
    private static string Added(string page, string fields)
    {
        var was = WebUtility.HtmlDecode(System.Text.RegularExpressions.Regex.Match(page, "name=\"was\" value=\"([^\"]*)\"").Groups[1].Value);
        return $"{WhatIf}?was={Uri.EscapeDataString(was)}&{fields}";
    }

    private static async Task<string> Read(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.True((200, "text/html") == (answer.Status, answer.ContentType), answer.Text);
        return answer.Text;
    }

    private async Task<(FirstRain Week, Browser Lead)> Opened()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        return (week, lead);
    }
}
