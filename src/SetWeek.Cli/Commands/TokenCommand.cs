using System.ComponentModel;
using SetWeek.Service.Access;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>
/// The `token` command: who holds the key file may speak for anybody. Prints the token alone, for a script to take.
/// </summary>
internal sealed class TokenCommand : AsyncCommand<TokenCommand.Arguments>
{
    public sealed class Arguments : CommandSettings
    {
        [CommandOption("--tenant <CHAIN>"), Description("The chain of stores.")]
        public string Tenant { get; init; } = "";

        [CommandOption("--person <ID>"), Description("Whose token it is: an id, no name.")]
        public string Person { get; init; } = "";

        [CommandOption("--role <ROLE>"), Description("lead, crew, head-office or engineer.")]
        public string Role { get; init; } = "";

        [CommandOption("--store|--stores <STORE>"),
            Description(
                "A store that it reaches, once for each; '*' reaches all. Head office reaches all unless told otherwise.")]
        public string[] Stores { get; init; } = [];

        [CommandOption("--hours <N>"), Description("How long it is good for, 1 to 8784; 12 unless given.")]
        public int Hours { get; init; } = 12;
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        if (Wrong(given) is { } wrong)
        {
            await Console.Error.WriteLineAsync(wrong);
            return 2;
        }
        var role = Roles.Parse(given.Role)!.Value;
        var caller = new Caller(given.Tenant, given.Person, role, given.Stores is [] ? [Caller.AnyStore] : given.Stores);
        var key = SigningKey.ReadOrCreate(
            Environment.GetEnvironmentVariable(Service.Settings.KeyFileVariable) is { Length: > 0 } file
            ? file : Service.Settings.DefaultKeyFile);
        Console.WriteLine(Tokens.Issue(key, caller, TimeProvider.System.GetUtcNow(), TimeSpan.FromHours(given.Hours)));
        return 0;
    }

    private static string? Wrong(Arguments given) =>
        !Ids.IsId(given.Tenant) ? "--tenant takes an id: small letters, digits, dots and hyphens."
        : !Ids.IsId(given.Person) ? "--person takes an id: small letters, digits, dots and hyphens."
        : Roles.Parse(given.Role) is not { } role ? $"--role is one of {string.Join(", ", Roles.All.Select(Roles.Text))}."
        : given.Stores.FirstOrDefault(store => store != Caller.AnyStore && !Ids.IsId(store)) is { } bad
            ? $"--store takes a store's id or '*', not {bad}."
        : given.Stores is [] && role != Role.HeadOffice ? "--store says which store the token reaches; give at least one."
        : given.Hours is < 1 or > 8784 ? "--hours takes a whole number from 1 to 8784."
        : null;
}
