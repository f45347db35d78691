using System.Net;
using Alba;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SetWeek.Service.Clocks;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Pages;
using SetWeek.Service.Tests.Access;

namespace SetWeek.Service.Tests.Http.Forms;

/// <summary>A form that meets a failure of the service is not lost: its page says what was typed, and sends it again.</summary>
public sealed class FormFailureTests : IAsyncLifetime
{
    private const string From = "http://localhost/weeks/w/facts/kits/forms", Why = "The lorry is <late> & wet";

    private static readonly IReadOnlyList<KeyValuePair<string, string>> Sent =
    [
        new(":token", "t-1"), new(FormFields.IdempotencyKey, "k-1"), new("kit", "paint-kit"), new("why", Why),
        new("eta", "2027-03-09T12:00"),
    ];

    private readonly List<string> bodies = [];
    private IAlbaHost host = null!;

    /// <summary>How the service fails before it answers; null once it works.</summary>
    private Exception? failure;

    /// <summary>Whether it fails before it has read the form.</summary>
    private bool failsAtOnce;

    public async Task InitializeAsync()
    {
        var builder = WebApplication.CreateBuilder();
        builder.Services.AddSingleton(TimeProvider.System).AddSingleton<OutageLog>().AddSingleton(new PlanningClock(() => default));
        host = await AlbaHost.For(builder, app =>
        {
            ErrorHandling.Use(app);
            FormMethods.Use(app);
            app.UseRouting();
            app.MapPut("/weeks/w/kits/paint-kit", async (HttpContext http) =>
            {
                if (failsAtOnce && failure is not null) throw failure;
                var form = await FormPost.Of(http);
                if (failure is not null) throw failure;
                bodies.Add($"{form!.IdempotencyKey} {form.Typed[":token"][0]} {System.Text.Encoding.UTF8.GetString(form.Body.Span)}");
                return Results.NoContent();
            });
        });
    }

    public async Task DisposeAsync() => await host.DisposeAsync();

    [Theory]
    [InlineData(false, 500)]
    [InlineData(true, 500)]
    [InlineData(true, 503)]
    public async Task It_is_sent_again_as_it_was(bool atOnce, int status)
    {
        failsAtOnce = atOnce;
        failure = status == 503 ? new NpgsqlException("away", new TimeoutException()) : new InvalidOperationException("a fault of ours");
        var page = await Send("/weeks/w/kits/paint-kit?form-method=put", Sent, From);
        Assert.Equal((HttpStatusCode)status, page.Status);
        Assert.Contains($"<li><bdi>{WebUtility.HtmlEncode(Why)}</bdi></li>", page.Text);
        Assert.Contains("<li><bdi>2027-03-09T12:00</bdi></li>", page.Text);
        Assert.DoesNotContain("<bdi>paint-kit</bdi>", page.Text); // nobody typed it
        Assert.Contains($"<a class=\"btn\" href=\"{new Uri(From).AbsolutePath}\">", page.Text);
        Assert.Empty(bodies);

        failure = null;
        var form = PageForm.With(page.Text, "Send it again");
        var again = form.Names.SelectMany(form.SentIn, (name, value) => KeyValuePair.Create(name, value)).ToList();
        Assert.Equal(Sent, again);
        Assert.Equal(HttpStatusCode.NoContent, (await Send(form.Address, again, From)).Status);
        Assert.Equal(["""k-1 t-1 {"kit":"paint-kit","why":"The lorry is \u003Clate\u003E \u0026 wet","eta":"2027-03-09T12:00"}"""], bodies);
    }

    /// <summary>Another site can fill in a form, and a PIN is for nobody who takes the phone later.</summary>
    [Theory]
    [InlineData("http://elsewhere.example/form", "why", Why)]
    [InlineData(null, "why", Why)]
    [InlineData(From, FormFields.Pin, "No 4821")]
    public async Task It_is_not_on_the_page_if_another_site_sent_it_or_if_it_has_a_PIN(string? from, string field, string secret)
    {
        failure = new InvalidOperationException("a fault of ours");
        var page = await Send("/weeks/w/kits/paint-kit?form-method=put", [new(field, secret)], from);
        Assert.Equal(HttpStatusCode.InternalServerError, page.Status);
        Assert.DoesNotContain(WebUtility.HtmlEncode(secret), page.Text);
        Assert.DoesNotContain("<form", page.Text);
    }

    private async Task<(HttpStatusCode Status, string Text)> Send(
        string address, IReadOnlyList<KeyValuePair<string, string>> fields, string? from)
    {
        using var client = host.GetTestClient();
        using var request = new HttpRequestMessage(HttpMethod.Post, address) { Content = new FormUrlEncodedContent(fields) };
        request.Headers.TryAddWithoutValidation("Accept", "text/html");
        if (from is not null) request.Headers.Referrer = new Uri(from);
        using var answer = await client.SendAsync(request);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync());
    }
}
