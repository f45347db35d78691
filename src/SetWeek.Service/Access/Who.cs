namespace SetWeek.Service.Access;

/// <summary>What a request is about, and so whose store is asked after before the slice runs.</summary>
public enum About
{
    /// <summary>The chain: no store has a say.</summary>
    Chain,

    /// <summary>The store in the route, as {id}.</summary>
    Store,

    /// <summary>The week in the route, as {id}: the store is that of the week.</summary>
    Week,

    /// <summary>A store that the body names; the slice asks <see cref="Caller.Reaches"/> itself.</summary>
    StoreInBody,
}

/// <summary>Who may use a slice. Every slice must say it: <see cref="Web.Operation.MayUse"/> is required.</summary>
public sealed record Who(About About, params Role[] Roles)
{
    public static Who Everybody(About about) => new(about, [.. Access.Roles.All]);
}
