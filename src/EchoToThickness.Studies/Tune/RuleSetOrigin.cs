namespace EchoToThickness.Studies.Tune;

/// <summary>How a rule set came about.</summary>
public enum RuleSetOrigin
{
    /// <summary>The procedure that the search began with.</summary>
    Base,

    /// <summary>Drawn before anything was known.</summary>
    Design,

    /// <summary>Proposed by the surrogate.</summary>
    Model,

    /// <summary>A small change of one of the best.</summary>
    Neighbour,
}
