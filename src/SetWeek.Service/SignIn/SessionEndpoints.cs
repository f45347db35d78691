using SetWeek.Service.Http;

namespace SetWeek.Service.SignIn;

/// <summary>The addresses that open, show and close browser sessions.</summary>
public static class SessionEndpoints
{
    internal const string Tag = "Sessions", Start = "/";

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.Open(OpenSession.Offer, OpenSession.Show);
        routes.Open(OpenSession.Operation, OpenSession.Run);
        routes.Direct(ReadSession.Operation, ReadSession.Run);
        routes.Direct(SignOut.Operation, SignOut.Run);
        routes.Direct(StartEnrolment.Operation, StartEnrolment.Run);
        routes.Open(ReadPhone.Operation, ReadPhone.Run);
        routes.Open(EnrolPhone.Operation, EnrolPhone.Run);
        routes.Open(SetPin.Operation, SetPin.Run);
        routes.Open(SignInByPin.Operation, SignInByPin.Run);
        routes.Query<ListPhones>();
        routes.Command<RemovePhone>();
        routes.Command<AllowPin>();
        routes.Direct(SignOutEverywhere.Operation, SignOutEverywhere.Run);
    }
}
