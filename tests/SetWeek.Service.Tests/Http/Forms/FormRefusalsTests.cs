using Microsoft.AspNetCore.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Fields;

namespace SetWeek.Service.Tests.Http.Forms;

/// <summary>A refused form is answered by its page, and nothing else is.</summary>
public sealed class FormRefusalsTests
{
    private static readonly ProblemDetails Problem = Refused.With(409, "It is open already.", "week-open").Problem!;

    [Fact]
    public async Task A_refusal_runs_the_page_of_the_form_as_a_GET()
    {
        var (http, seen) = (Post(), new List<string>());
        await FormRefusals.Run(http, inner =>
        {
            seen.Add($"{inner.Request.Method} {inner.Request.Path}{inner.Request.QueryString}");
            if (seen.Count == 1) Assert.True(FormRefusals.IsKept(inner, Problem));
            return Task.CompletedTask;
        });
        Assert.Equal(["PUT /weeks/w/launch?form-method=put", "GET /weeks/w/facts?night=n1"], seen);
        Assert.Equal(("/weeks/w/launch?form-method=put", 409, "soon"), http.Features.Get<FormRefusal>() is { } refusal
            ? (refusal.Action, refusal.Status, refusal.Typed["launch"][0]) : default);
        Assert.False(FormRefusals.IsKept(http, Problem)); // the page itself may be refused
    }

    /// <summary>A failure is answered outside, after the pipeline has been left. Kept there, it would be an empty answer.</summary>
    [Fact]
    public async Task A_failure_is_not_kept()
    {
        var http = Post();
        await Assert.ThrowsAsync<InvalidOperationException>(() =>
            FormRefusals.Run(http, _ => throw new InvalidOperationException("a fault of ours")));
        Assert.False(FormRefusals.IsKept(http, Problem));
    }

    private static HttpContext Post()
    {
        var http = new DefaultHttpContext();
        (http.Request.Method, http.Request.Path, http.Request.QueryString) =
            ("PUT", "/weeks/w/launch", new QueryString("?form-method=put"));
        http.Features.Set(FormPost.Of(
        [
            KeyValuePair.Create("launch", (IReadOnlyList<string>)["soon"]),
            KeyValuePair.Create(FormFields.From, (IReadOnlyList<string>)["/weeks/w/facts?night=n1"]),
        ], () => default));
        return http;
    }
}
