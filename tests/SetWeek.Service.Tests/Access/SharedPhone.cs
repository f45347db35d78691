using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Access;

/// <summary>What a lead and the crew do with the shared phone of a store, on the Monday night of the small week.</summary>
internal static class SharedPhone
{
    public const string Phones = "/stores/harbour-street/phones", InTheNight = "2027-03-08T21:00";

    /// <summary>The night is open, and the lead has enrolled a phone.</summary>
    public static async Task<(Chain Chain, ApiClient Lead, Browser Phone)> Enrolled(RunningService service)
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        chain.Clock.MoveTo(InTheNight);
        var phone = await chain.Phone();
        Assert.Equal(204, (await Enrol(phone, await Code(week.Lead))).Status);
        return (chain, week.Lead, phone);
    }

    public static async Task<string> Code(ApiClient lead) =>
        (string)(await FirstRain.ExpectStatus(201, lead.Post(Phones, """{"name": "Phone 1"}"""))).Json["code"]!;

    public static Task<ApiResponse> Enrol(Browser phone, string code) =>
        phone.Api.Post("/phone/enrolment", $$"""{"code": "{{code}}"}""");

    public static Task<ApiResponse> Allow(ApiClient lead, string person) => FirstRain.ExpectStatus(204,
        lead.Post("/stores/harbour-street/pin-permissions", $$"""{"person": "{{person}}"}"""));

    public static Task<ApiResponse> Choose(Browser phone, string person, string pin) =>
        phone.Api.Post("/phone/pin", $$"""{"person": "{{person}}", "pin": "{{pin}}"}""");

    public static Task<ApiResponse> SignInByPin(Browser phone, string person, string pin) =>
        phone.Api.Post("/phone/session", $$"""{"person": "{{person}}", "pin": "{{pin}}"}""");

    /// <summary>The phone goes to the next person: it signs out, and has the token of nobody again.</summary>
    public static async Task SignOut(Browser phone)
    {
        await phone.ReadFormToken();
        Assert.Equal(204, (await phone.Api.Send(HttpMethod.Post, "/sign-out", (string?)null)).Status);
        await phone.ReadFormTokenOfPhone();
    }

    /// <summary>Changes the tables of a chain, as if time had passed.</summary>
    public static async Task Execute(RunningService service, Chain chain, string sql)
    {
        await using var command = service.Host.Services.GetRequiredService<NpgsqlDataSource>().CreateCommand(sql);
        command.Parameters.AddWithValue(chain.Tenant);
        await command.ExecuteNonQueryAsync();
    }
}
