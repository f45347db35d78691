using static SetWeek.Service.Tests.Pages.Facts.FactsDesk;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Facts;

/// <summary>The form of a task.</summary>
[Collection(ServiceCollection.Name)]
public sealed class TaskFactsTests(RunningService service)
{
    [Fact]
    public async Task What_a_form_of_a_task_does_not_change_stays()
    {
        var (week, lead) = await Opened(service);
        var before = At((await week.Lead.Get($"{Address}/week-file")).Json, "/tasks/1")!.ToJsonString();
        await lead.PressButton(await Page(lead, $"{FactsAddress}/tasks/wall.forms"), "Keep this task",
            ("name", "Set all the forms"));
        Assert.Equal(before.Replace("Set the forms", "Set all the forms", StringComparison.Ordinal),
            At((await week.Lead.Get($"{Address}/week-file")).Json, "/tasks/1")!.ToJsonString());
    }

    [Fact]
    public async Task A_fault_after_a_row_that_was_emptied_stands_beside_its_field()
    {
        var (_, lead) = await Opened(service);
        var answer = await lead.PressButton(await Page(lead, $"{FactsAddress}/tasks/wall.forms"), "Keep this task",
            ("after[0].task:row", ""), ("after[1].task:row", "cycle.panel.fix"), ("after[1].dryMinutes:number", "-5"));
        Assert.Equal(400, answer.Status);
        Assert.Matches("id=\"task-after-1--dryMinutes-number\"[^>]* value=\"-5\" aria-invalid=\"true\"", answer.Text);
        Assert.DoesNotMatch("id=\"task-after-0--dryMinutes-number\"[^>]* aria-invalid", answer.Text);
    }
}
