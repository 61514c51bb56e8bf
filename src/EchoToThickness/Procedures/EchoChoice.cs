namespace EchoToThickness.Procedures;

/// <summary>Which echo of a gate counts.</summary>
public enum EchoChoice
{
    /// <summary>The first that reaches the level.</summary>
    [Choice("first", "The first that reaches the level.")]
    First,

    /// <summary>The strongest that reaches the level; the earlier of equals.</summary>
    [Choice("strongest", "The strongest that reaches the level; the earlier of equals.")]
    Strongest,

    /// <summary>The last that reaches the level.</summary>
    [Choice("last", "The last that reaches the level.")]
    Last,
}
