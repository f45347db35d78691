using Spectre.Console;

namespace SetWeek.Cli.Demo;

/// <summary>Prints numbered headings and sentences; the text is the same on a terminal and in a file.</summary>
internal sealed class DemoOutput(IAnsiConsole console)
{
    private int chapter;

    public IAnsiConsole Console => console;

    public void Heading(string title)
    {
        console.WriteLine();
        var heading = $"[bold]{++chapter}  {Markup.Escape(title)}[/]";
        console.Write(new Rule(heading) { Justification = Justify.Left, Border = BoxBorder.Double });
    }

    public void Write(string sentence, bool deeper = false) =>
        console.Write(new Padder(new Text(sentence), new Padding(deeper ? 6 : 3, 0, 0, 0)));

    /// <summary>"1 night", "5 nights".</summary>
    public static string Count(int number, string singular, string? plural = null) =>
        $"{number} {(number == 1 ? singular : plural ?? singular + "s")}";
}
