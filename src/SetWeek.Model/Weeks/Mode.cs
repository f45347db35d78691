namespace SetWeek.Model.Weeks;

/// <summary>One of the alternative ways of doing a task: a duration and the resources that it takes.</summary>
/// <param name="Minutes">Length of the whole task in minutes; its stints share it equally.</param>
/// <param name="Roles">The people that a stint takes; empty means that the work needs nobody, as curing does.</param>
public sealed record Mode(int Minutes, IReadOnlyList<SkillRequirement> Roles)
{
    /// <summary>The equipment that a stint uses while it runs.</summary>
    public IReadOnlyList<EquipmentUse> Equipment { get; init; } = [];
}

/// <summary>The people of one skill that a mode or a clean-down takes ("roles" in the file).</summary>
/// <param name="Skill">The skill that each of them has.</param>
/// <param name="People">How many people.</param>
public sealed record SkillRequirement(string Skill, int People)
{
    /// <summary>Lowest level of the skill that each of them has, 1 to 3.</summary>
    public int Level { get; init; } = 1;

    /// <summary>Whether a person has the skill at that level.</summary>
    public bool IsMetBy(CrewMember member) => member.Skills.GetValueOrDefault(Skill) >= Level;
}

/// <summary>The pieces of one kind of equipment that a stint uses from its start to its end.</summary>
/// <param name="Id">Id of the equipment.</param>
/// <param name="Count">Number of pieces.</param>
public sealed record EquipmentUse(string Id, int Count);
