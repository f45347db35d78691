using AngleSharp.Html.Parser;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using SetWeek.Model.Json;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Fields;

namespace SetWeek.Service.Tests.Http.Forms;

/// <summary>The fields of a form that is shown again, without a service.</summary>
public sealed class RefusedFieldsTests
{
    /// <summary>The form has an input "due"; what else was sent, it only passes on.</summary>
    [Theory]
    [InlineData("/due", "Wrong.", false)]
    [InlineData("/store", "store: Wrong.", true)]
    [InlineData("/bans/0/from", "bans 1, from: Wrong.", true)]
    [InlineData("/crew/3", "crew 4: Wrong.", true)]
    [InlineData("", "Wrong.", true)]
    public async Task A_fault_stands_before_the_form_unless_a_field_shows_it(string pointer, string text, bool isBefore)
    {
        var page = new HtmlParser().ParseDocument(await Render(Refusal(400, new Fault(pointer, "Wrong.")))).Body!.TextContent;
        var (before, fields) = page.Split("The due day") is [var first, var second] ? (first, second) : (page, "");
        Assert.Contains(text, isBefore ? before : fields);
        Assert.DoesNotContain("Wrong.", isBefore ? fields : before);
    }

    [Fact]
    public async Task An_input_of_an_older_page_says_what_is_so_now()
    {
        Assert.Contains("As it is now: <bdi>2027-03-12</bdi>", await Render(Refusal(412)));
        Assert.DoesNotContain("As it is now", await Render(Refusal(409)));
        Assert.DoesNotContain("As it is now", await Render(Refusal(412), now: null)); // it begins empty each time
    }

    [Fact]
    public async Task A_page_says_a_refusal_only_if_it_shows_one_of_a_form()
    {
        Assert.True(FormRefusals.IsSaidOn(Answer.Page(await Render(Refusal(400)))));
        const string likeOne = "<p data-refused=\"400\">";
        var other = await PageRenderer.Render<ProblemPage, ProblemPage.Problem>(new(likeOne, likeOne, [likeOne]));
        Assert.Contains("data-refused", other);
        Assert.False(FormRefusals.IsSaidOn(Answer.Page(other)));
    }

    private static FormRefusal Refusal(int status, params Fault[] faults) => new("/weeks", status, "It is wrong.", [], faults,
        new Dictionary<string, IReadOnlyList<string>>
        {
            ["due"] = ["soon"], ["store"] = ["s"], ["bans[0].from"] = ["late"], ["crew:list"] = [""],
        })
    {
        Pointers = new Dictionary<string, string>
        {
            ["due"] = "/due", ["store"] = "/store", ["bans[0].from"] = "/bans/0/from", ["crew:list"] = "/crew",
        },
    };

    private static async Task<string> Render(FormRefusal refusal, string? now = "2027-03-12")
    {
        await using var services = new Microsoft.Extensions.DependencyInjection.ServiceCollection().BuildServiceProvider();
        await using var renderer = new HtmlRenderer(services, NullLoggerFactory.Instance);
        RenderFragment form = builder =>
        {
            builder.OpenComponent<Mend>(0);
            builder.CloseComponent();
            builder.AddContent(1, "The due day");
            builder.OpenComponent<TypedInput>(2);
            builder.AddComponentParameter(3, "name", "due");
            if (now is not null) builder.AddComponentParameter(4, "value", now);
            builder.CloseComponent();
        };
        var parameters = ParameterView.FromDictionary(new Dictionary<string, object?>
        {
            ["Value"] = new FormScope("form", refusal), ["ChildContent"] = form,
        });
        return await renderer.Dispatcher.InvokeAsync(
            async () => (await renderer.RenderComponentAsync<CascadingValue<FormScope>>(parameters)).ToHtmlString());
    }
}
