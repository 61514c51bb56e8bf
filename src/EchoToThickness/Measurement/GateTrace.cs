namespace EchoToThickness.Measurement;

/// <summary>What a gate did. Times in seconds from the pulse, amplitudes as fractions of full scale.</summary>
/// <param name="Name">Gate name.</param>
/// <param name="StartSeconds">Start.</param>
/// <param name="EndSeconds">End.</param>
/// <param name="LevelFraction">Level at the start of the gate.</param>
/// <param name="EchoSeconds">Echo taken; NaN when none.</param>
/// <param name="EchoAmplitudeFraction">Its amplitude; NaN when none.</param>
public sealed record GateTrace(
    string Name,
    double StartSeconds,
    double EndSeconds,
    double LevelFraction,
    double EchoSeconds,
    double EchoAmplitudeFraction
);
