using System.Net;
using System.Text.Json.Nodes;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Pages.Facts.FactsDesk;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Facts;

/// <summary>The forms of tasks and people have a place for what the week does not have yet: a further mode, a skill.</summary>
[Collection(ServiceCollection.Name)]
public sealed class NewSkillTests(RunningService service)
{
    private const string Paint = $"{FactsAddress}/tasks/wall.paint", Cleo = $"{FactsAddress}/crew/p3";
    private const string KeepTask = "Keep this task", KeepPerson = "Keep these particulars";

    [Fact]
    public async Task A_task_gets_a_further_mode_and_loses_it_again()
    {
        var (week, lead) = await Opened(service);
        var alone = await Modes(week);
        var kept = await lead.PressButton(await Page(lead, Paint), KeepTask, ("modes[1].minutes:number", "70"),
            ("modes[1].roles[0].skill:row", "painting"), ("modes[1].roles[0].people:number", "2"));
        Assert.True(kept.Status == 303, kept.Text);
        var both = (await Modes(week)).AsArray();
        Assert.Equal(2, both.Count);
        Assert.True(JsonNode.DeepEquals(alone[0], both[0]));
        Assert.Equal((70, "painting", 2),
            ((int)both[1]!["minutes"]!, (string?)both[1]!["roles"]![0]!["skill"], (int)both[1]!["roles"]![0]!["people"]!));

        await lead.PressButton(await Page(lead, Paint), KeepTask, ("modes[1].minutes:number", ""), ("modes[1].roles[0].skill:row", ""));
        Assert.True(JsonNode.DeepEquals(alone, await Modes(week)));
    }

    [Fact]
    public async Task A_further_mode_without_its_minutes_comes_back_with_what_was_typed()
    {
        var (week, lead) = await Opened(service);
        var before = await Modes(week);
        var answer = await lead.PressButton(await Page(lead, Paint), KeepTask,
            ("modes[1].roles[0].skill:row", "dressing"), ("modes[1].roles[0].people:number", "1"));
        Assert.Equal(400, answer.Status);
        Assert.Matches("id=\"task-modes-1--minutes-number\"[^>]* value=\"\" aria-invalid=\"true\"", answer.Text);
        Assert.DoesNotMatch("id=\"task-modes-0--minutes-number\"[^>]* aria-invalid", answer.Text);
        Assert.Equal(["dressing"], PageForm.With(answer.Text, KeepTask).SentIn("modes[1].roles[0].skill:row"));
        Assert.True(JsonNode.DeepEquals(before, await Modes(week)));

        var mended = await lead.PressButton(answer.Text, KeepTask, ("modes[1].minutes:number", "40"));
        Assert.True(mended.Status == 303, mended.Text);
        Assert.Equal("dressing", (string?)(await Modes(week))[1]!["roles"]![0]!["skill"]);
    }

    [Fact]
    public async Task Somebody_gets_a_skill_that_nobody_has_and_a_task_then_asks_for_it()
    {
        var (week, lead) = await Opened(service);
        var before = await Skills(week);
        var kept = await lead.PressButton(await Page(lead, Cleo), KeepPerson, (":skill", "sign.writing "), ("skills.{:skill}:number", "3"));
        Assert.True(kept.Status == 303, kept.Text);
        var after = (await Skills(week)).AsObject();
        Assert.Equal(3, (int)after["sign.writing"]!);
        after.Remove("sign.writing");
        Assert.True(JsonNode.DeepEquals(before, after)); // the others stay
        await lead.PressButton(await Page(lead, Paint), KeepTask,
            ("modes[0].roles[1].skill:row", "sign.writing"), ("modes[0].roles[1].people:number", "1"));
        Assert.Equal(["painting", "sign.writing"], (await Modes(week))[0]!["roles"]!.AsArray().Select(role => (string?)role!["skill"]));

        var joined = await lead.PressButton(await Page(lead, $"{FactsAddress}/crew"), "Add to the crew", ("name", "Dara Quill"),
            ("ratePerHour:number", "1200"), (":skill", "sewing"), ("skills.{:skill}:number", "1"));
        Assert.True(joined.Status == 303, joined.Text);
        Assert.Equal(1, (int)(await week.Lead.Get($"{Address}/week-file")).Json["crew"]![3]!["skills"]!["sewing"]!);
    }

    /// <summary>A name may have 64 characters. One that the list has too would have two levels.</summary>
    [Theory]
    [InlineData("65", "The name is 65 characters long")]
    [InlineData("painting", "give a number")]
    public async Task A_skill_that_is_refused_comes_back_with_what_was_typed(string name, string fault)
    {
        var (week, lead) = await Opened(service);
        var before = await Skills(week);
        if (name == "65") name = new string('s', 65);
        var answer = await lead.PressButton(await Page(lead, Cleo), KeepPerson, ("skills.painting:number", "1"),
            (":skill", name), ("skills.{:skill}:number", "2"));
        Assert.Equal(400, answer.Status);
        Assert.Matches($"id=\"particulars--skill-fault\">[^<]*{fault}", WebUtility.HtmlDecode(answer.Text));
        Assert.Matches($"id=\"particulars--skill\"[^>]* value=\"{name}\" aria-invalid=\"true\"", answer.Text);
        Assert.Equal(["2"], PageForm.With(answer.Text, KeepPerson).SentIn("skills.{:skill}:number"));
        Assert.True(JsonNode.DeepEquals(before, await Skills(week)));
    }

    private static async Task<JsonNode> Modes(FirstRain week) =>
        (await week.Lead.Get($"{Address}/week-file")).Json["tasks"]![0]!["modes"]!;

    private static async Task<JsonNode> Skills(FirstRain week) =>
        (await week.Lead.Get($"{Address}/week-file")).Json["crew"]![2]!["skills"]!;
}
