using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.Logging.Abstractions;
using SetWeek.Service.Pages.Html;

namespace SetWeek.Service.Pages;

/// <summary>A page: a Razor component that shows its model and what the request says, and reads nothing else.</summary>
public abstract class PageComponent<TModel> : ComponentBase
{
    [Parameter, EditorRequired] public TModel Model { get; set; } = default!;

    [CascadingParameter] public PageContext Context { get; set; } = PageContext.None;
}

/// <summary>Renders pages on the server, once for each request; the browser runs no component.</summary>
public static class PageRenderer
{
    /// <summary>Components ask for no services.</summary>
    private static readonly ServiceProvider Services = new ServiceCollection().BuildServiceProvider();

    /// <summary>The whole document.</summary>
    /// <param name="context">What the request says to the page; null without one.</param>
    public static async Task<string> Render<TPage, TModel>(TModel model, PageContext? context = null)
        where TPage : PageComponent<TModel>
    {
        await using var renderer = new HtmlRenderer(Services, NullLoggerFactory.Instance);
        var parameters = ParameterView.FromDictionary(new Dictionary<string, object?>
        {
            [nameof(CascadingValue<>.Value)] = context ?? PageContext.None,
            [nameof(CascadingValue<>.IsFixed)] = true,
            [nameof(CascadingValue<>.ChildContent)] = (RenderFragment)(builder =>
            {
                builder.OpenComponent<TPage>(0);
                builder.AddComponentParameter(1, nameof(PageComponent<>.Model), model);
                builder.CloseComponent();
            }),
        });
        var body = await renderer.Dispatcher.InvokeAsync(
            async () => (await renderer.RenderComponentAsync<CascadingValue<PageContext>>(parameters)).ToHtmlString());
        // A component cannot hold the document type.
        return $"<!doctype html>\n{Isolation.Of(body)}";
    }
}
