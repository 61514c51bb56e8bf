namespace EchoToThickness.Measurement;

/// <summary>One candidate echo and the part it plays. Times in seconds from the pulse, amplitudes as fractions of full scale.</summary>
/// <param name="Seconds">Time.</param>
/// <param name="AmplitudeFraction">Peak of the envelope.</param>
/// <param name="Polarity">+1 as the interface echo, -1 inverted against it, 0 unknown.</param>
/// <param name="WidthSeconds">Width of the envelope at half height.</param>
/// <param name="SignalToNoiseDecibels">Peak-to-noise ratio.</param>
/// <param name="Role">What the chosen hypothesis calls it: "interface", "back-wall echo 1", "couplant multiple", "laminar reflector", "not explained", ...</param>
/// <param name="Paired">Whether the wall rests on it.</param>
public sealed record EchoTrace(
    double Seconds,
    double AmplitudeFraction,
    int Polarity,
    double WidthSeconds,
    double SignalToNoiseDecibels,
    string Role,
    bool Paired
);
