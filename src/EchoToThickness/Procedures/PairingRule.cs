namespace EchoToThickness.Procedures;

/// <summary>Which echoes give the wall.</summary>
public enum PairingRule
{
    /// <summary>The difference of two named echoes (interface, or gates).</summary>
    [Choice("difference", "The difference of two named echoes (interface, or gates).")]
    Difference,

    /// <summary>The weighted mean of interface to wall and wall to wall where they agree; the cell is ambiguous where they do not.</summary>
    [Choice(
        "agreement",
        "The weighted mean of interface to wall and wall to wall where they agree; the cell is ambiguous where they do not."
    )]
    Agreement,

    /// <summary>The hypothesis about the whole echo train (order of each echo, couplant multiples, laminar reflector) that explains the A-scan best.</summary>
    [Choice(
        "train",
        "The hypothesis about the whole echo train (order of each echo, couplant multiples, laminar reflector) that explains the A-scan best."
    )]
    Train,
}
