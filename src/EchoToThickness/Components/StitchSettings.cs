namespace EchoToThickness.Components;

/// <summary>How lines are put together.</summary>
public sealed record StitchSettings
{
    /// <summary>Rule.</summary>
    public StitchRule Rule { get; init; } = StitchRule.Smallest;

    /// <summary>Pitch of the map along, metres of the centre line; 0: the smallest scan pitch of the lines.</summary>
    public double AlongPitchMetres { get; init; }

    /// <summary>Pitch of the map around, metres of the outer girth; 0: the smallest beam pitch of the lines.</summary>
    public double AroundPitchMetres { get; init; }

    /// <summary>A value with a greater probability of a wrong echo is not credible; unknown probabilities are.</summary>
    public double CredibleWrongEcho { get; init; } = 0.5;
}
