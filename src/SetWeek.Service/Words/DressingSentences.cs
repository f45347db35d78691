namespace SetWeek.Service.Words;

/// <summary>What is said beside the figures of a display, on its page and on the dresser's sheet.</summary>
public static class DressingSentences
{
    /// <summary>Common practice, no source.</summary>
    public const string Order = "Layers go on from the feet up, sleeves and trousers with the limbs off. Then the limbs, "
        + "then the pose, then the pins, out of a child's reach.";
}
