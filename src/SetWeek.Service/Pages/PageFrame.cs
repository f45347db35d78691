namespace SetWeek.Service.Pages;

/// <summary>The frame of every page. It holds its own style sheet and loads nothing.</summary>
internal static class PageFrame
{
    public static string Of(string title, Html body) => Html.Of($"""
        <!doctype html>
        <html lang="en">
        <head>
        <meta charset="utf-8">
        <meta name="viewport" content="width=device-width, initial-scale=1">
        <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; form-action 'none'">
        <title>{title}</title>
        <style>
        {PageStyle.Sheet}
        </style>
        </head>
        <body>
        {body}
        </body>
        </html>
        """).Text;
}
