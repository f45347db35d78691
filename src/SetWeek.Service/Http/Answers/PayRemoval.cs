using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Json;

namespace SetWeek.Service.Http.Answers;

/// <summary>
/// Removes pay from the JSON answers to callers who may not see it, whatever the slice: rates, wages and the goal "cost".
/// From the wages of two plans and the shifts in them, a colleague's rate could be computed.
/// </summary>
public static class PayRemoval
{
    private static readonly string[] Pay = ["cost", "ratePerHour", "wages"];

    public static Answer For(Caller caller, Answer answer)
    {
        if (caller.MaySeePay || answer.IsRefusal || answer.Content.Length == 0 || answer.ContentType != "application/json")
            return answer;
        var content = JsonNode.Parse(answer.Content.Span);
        Remove(content);
        return answer with { Content = JsonFormat.Bytes(content) };
    }

    private static void Remove(JsonNode? node)
    {
        if (node is JsonObject fields)
        {
            foreach (var name in Pay) fields.Remove(name);
            foreach (var (_, value) in fields) Remove(value);
        }
        else if (node is JsonArray list)
        {
            foreach (var goal in list.Where(IsCost).ToList()) list.Remove(goal);
            foreach (var item in list) Remove(item);
        }
    }

    private static bool IsCost(JsonNode? item) =>
        item is JsonObject fields && fields["goal"] is JsonValue goal && goal.TryGetValue<string>(out var name) && name == "cost";
}
