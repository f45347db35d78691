using System.ComponentModel;
using System.Security.Cryptography;
using SetWeek.Cli.Input;
using SetWeek.Service;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>
/// The `token` command: prints an access token, or a sign-in link for a browser, and nothing else, so that a script can use it.
/// Anyone who can read the key file can issue both for any person.
/// </summary>
internal sealed class TokenCommand : AsyncCommand<TokenCommand.Arguments>
{
    public sealed class Arguments : CommandSettings
    {
        [CommandOption("--tenant <CHAIN>"), Description("The id of the chain of stores.")]
        public string Tenant { get; init; } = "";

        [CommandOption("--person <ID>"), Description("The id (not the name) of the person who will use the token.")]
        public string Person { get; init; } = "";

        [CommandOption("--role <ROLE>"), Description("The person's role: lead, crew, head-office, region or engineer.")]
        public string Role { get; init; } = "";

        [CommandOption("--store|--stores <STORE>"),
            Description(
                "A store that the token gives access to; repeat the option for more stores. "
                + "'*' means all, the default for head office.")]
        public string[] Stores { get; init; } = [];

        [CommandOption("--hours <N>"), Description("How long the token is valid, 1 to 8784 hours; default: 12.")]
        public NumberOption? Hours { get; init; }

        [CommandOption("--link"), Description(
            "Prints a link that signs the person in in a browser instead. It works once, within ten minutes, and only if the "
            + "service listens on loopback alone.")]
        public bool Link { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        if (Fault(given) is { } fault)
        {
            await Console.Error.WriteLineAsync(fault);
            return ExitCode.BadInput;
        }
        var role = Roles.Parse(given.Role)!.Value;
        var caller = new Caller(given.Tenant, given.Person, role, given.Stores is [] ? [Caller.AnyStore] : given.Stores);
        var key = SigningKey.ReadOrCreate(
            Variable(Settings.KeyFileVariable) ?? Settings.DefaultKeyFile);
        var now = TimeProvider.System.GetUtcNow();
        Console.WriteLine(given.Link
            ? SignInLinks.Make(key, Address, caller, now, RandomNumberGenerator.GetHexString(32, lowercase: true))
            : Tokens.Issue(key, caller, now, TimeSpan.FromHours(given.Hours?.Whole ?? 12)));
        return ExitCode.Done;
    }

    /// <summary>Where browsers reach the service, by the settings that the service has too.</summary>
    private static BrowserAddress Address =>
        new(Variable(Settings.UrlsVariable) ?? Settings.DefaultUrls, Variable(Settings.PublicUrlVariable));

    private static string? Variable(string name) =>
        Environment.GetEnvironmentVariable(name) is { Length: > 0 } value ? value : null;

    private static string? Fault(Arguments given) =>
        !Ids.IsId(given.Tenant) ? "--tenant needs an id: lower-case letters, digits, dots and hyphens."
        : !Ids.IsId(given.Person) ? "--person needs an id: lower-case letters, digits, dots and hyphens."
        : Roles.Parse(given.Role) is not { } role ? $"--role needs one of: {string.Join(", ", Roles.All.Select(Roles.Text))}."
        : given.Stores.FirstOrDefault(store => store != Caller.AnyStore && !Ids.IsId(store)) is { } bad
            ? $"--store needs the id of a store or '*'; \"{bad}\" is neither."
        : given.Stores is [] && role != Role.HeadOffice
            ? "--store is missing; name at least one store that the token gives access to."
        : given.Link && !Address.IsLoopback
            ? $"--link is for a service on loopback alone; {Settings.UrlsVariable} or {Settings.PublicUrlVariable} says that "
                + "other machines reach this one."
        : given is { Link: true, Hours: not null } ? "--hours is for tokens; a link works for ten minutes. Leave out one of them."
        : NumberOption.WholeFault("--hours", given.Hours, 1, 8784, 12);
}
