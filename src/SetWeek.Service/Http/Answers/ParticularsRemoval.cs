using System.Text.Json.Nodes;
using SetWeek.Model.Plans;
using SetWeek.Service.Access;
using SetWeek.Service.Json;

namespace SetWeek.Service.Http.Answers;

/// <summary>
/// Removes pay and ages from the JSON answers to callers who may not see them, whatever the slice. Pay: rates, wages and the goal
/// "cost"; from the wages of two plans and the shifts in them, a colleague's rate could be computed. Ages: where a sentence says
/// what holds for a person, the rule "young-worker" reads "availability", which is as true for everybody else.
/// </summary>
public static class ParticularsRemoval
{
    private static readonly string[] Pay = ["cost", "ratePerHour", "wages"];

    public static Answer For(Caller caller, Answer answer)
    {
        if (caller.MaySeeParticulars || answer.IsRefusal || answer.Content.Length == 0
            || answer.ContentType != "application/json")
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
            if (fields.ContainsKey("sentence") && Has(fields, "rule", RuleId.YoungWorker.Text()))
                fields["rule"] = RuleId.Availability.Text();
            foreach (var (_, value) in fields) Remove(value);
        }
        else if (node is JsonArray list)
        {
            foreach (var goal in list.Where(IsCost).ToList()) list.Remove(goal);
            foreach (var item in list) Remove(item);
        }
    }

    private static bool IsCost(JsonNode? item) => item is JsonObject fields && Has(fields, "goal", "cost");

    private static bool Has(JsonObject fields, string name, string text) =>
        fields[name] is JsonValue value && value.TryGetValue<string>(out var found) && found == text;
}
