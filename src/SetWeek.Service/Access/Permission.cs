namespace SetWeek.Service.Access;

/// <summary>Which store a caller needs access to; checked before the slice runs.</summary>
public enum AccessScope
{
    /// <summary>None: the request is about the chain.</summary>
    Chain,

    /// <summary>The store in the route, as {id}.</summary>
    Store,

    /// <summary>The week in the route, as {id}: the store is that of the week.</summary>
    Week,

    /// <summary>A store that the body names; the slice asks <see cref="Caller.MayAccess"/> itself.</summary>
    StoreInBody,
}

/// <summary>Who may use a slice. Every slice must say it: <c>Operation.MayUse</c> is required.</summary>
public sealed record Permission(AccessScope Scope, params Role[] Roles)
{
    public static Permission Everybody(AccessScope scope) => new(scope, [.. Access.Roles.All]);
}
