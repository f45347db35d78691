using System.Diagnostics;
using System.Text.RegularExpressions;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Ops;

/// <summary>
/// What `ops/demo --keep` prints at its end. The functions of the script print it here for a chain of the tests: a whole demo
/// takes minutes.
/// </summary>
[Collection(ServiceCollection.Name)]
public sealed partial class DemoLinksTests(RunningService service)
{
    /// <summary>The service of the script. Its addresses are opened here without their host.</summary>
    private const string Url = "http://127.0.0.1:24680";

    [Fact]
    public async Task Each_role_has_a_link_that_signs_it_in_and_a_page_that_it_may_read()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        var output = await LeftRunning(chain);
        var printed = LinkAndPage().Matches(output).ToDictionary(line => line.Groups[1].Value, line =>
            (Link: new Uri(line.Groups[2].Value), Page: new Uri(line.Groups[3].Value)));
        Assert.Equal(Roles.All.Select(role => role.Text().Replace('-', ' ')).Order(), printed.Keys.Order());
        foreach (var role in Roles.All)
        {
            var (link, page) = printed[role.Text().Replace('-', ' ')];
            Assert.All((Uri[])[link, page], address => Assert.Equal(Url, address.GetLeftPart(UriPartial.Authority)));
            using var browser = chain.Browser();
            Assert.Equal(204, (await browser.Open(link.AbsolutePath)).Status);
            Assert.Equal(role.Text(), (string?)(await browser.Api.Get("/session")).Json["role"]);
            // A member of the crew is led on to their own night.
            var opened = await browser.Api.Get(page.AbsolutePath, ("Accept", "text/html"));
            if (opened.Status == 303) opened = await browser.Api.Get(opened.Location!, ("Accept", "text/html"));
            Assert.Equal(200, opened.Status);
        }
        // Nothing is left of the script: neither a variable without its value nor a command.
        Assert.DoesNotContain("$week", output);
        Assert.DoesNotContain("$(link", output);
        Assert.Contains($"--tenant {chain.Tenant} ", output);
        Assert.EndsWith("ops/demo --stop demo-1\n", output);
    }

    private async Task<string> LeftRunning(Chain chain)
    {
        var start = new ProcessStartInfo("bash", ["-euc",
            """
            eval "$(sed -n '/^stopped() /p; /^token() /,/^}/p; /^link() /p; /^left_running() /,/^}/p' "$script")"
            for function in stopped token link left_running; do
              declare -F "$function" >/dev/null || { echo "ops/demo has no function $function"; exit 3; }
            done
            left_running
            """])
            { RedirectStandardOutput = true };
        foreach (var (name, value) in (IEnumerable<(string, string)>)
        [
            ("script", Repository.PathOf("ops", "demo")), ("program", Path.Combine(AppContext.BaseDirectory, "SetWeek.Cli.dll")),
            ("chain", chain.Tenant), ("name", "demo-1"), (Settings.UrlsVariable, Url),
            (Settings.KeyFileVariable, service.Settings.KeyFile),
        ]) start.Environment[name] = value;
        using var script = Process.Start(start)!;
        var output = await script.StandardOutput.ReadToEndAsync();
        await script.WaitForExitAsync();
        Assert.True(script.ExitCode == 0, output);
        return output;
    }

    [GeneratedRegex(@"(?m)^  ([a-z ]+): +(\S+)\n +(http\S+)$")]
    private static partial Regex LinkAndPage();
}
