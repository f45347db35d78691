namespace SetWeek.Service.Access;

/// <summary>Which store a caller needs access to; checked before the slice runs.</summary>
public enum AccessScope
{
    /// <summary>None: the request concerns the whole chain.</summary>
    Chain,

    /// <summary>The store named by {id} in the route.</summary>
    Store,

    /// <summary>The store of the week named by {id} in the route.</summary>
    Week,

    /// <summary>A store named in the body; the slice itself calls <see cref="Caller.MayAccess"/>.</summary>
    StoreInBody,
}

/// <summary>
/// The roles that may use a slice, and the store access it needs. <c>Operation.MayUse</c> requires one of every slice.
/// </summary>
public sealed record Permission(AccessScope Scope, params Role[] Roles)
{
    /// <summary>Who may use it, for the foot of a page: "For leads and head office."</summary>
    public string Sentence => Access.Roles.All.Except(Roles).Any() ? $"For {Access.Roles.People(Roles)}."
        : Scope == AccessScope.Chain ? "For everybody who is signed in." : "For everybody who is signed in for this store.";

    public static Permission Everybody(AccessScope scope) => new(scope, [.. Access.Roles.All]);
}
