using Wolverine.Attributes;

namespace SetWeek.Service.Solving;

/// <summary>A plan that a batch of head office requested is settled. Sent in the transaction that does it.</summary>
[MessageIdentity("setweek.batch-plan-settled")]
public sealed record BatchPlanSettled(string Batch, string Week, string Plan);
