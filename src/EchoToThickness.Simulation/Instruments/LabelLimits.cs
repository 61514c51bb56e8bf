namespace EchoToThickness.Simulation.Instruments;

/// <summary>What a record can hold, against which echoes are labelled.</summary>
/// <param name="StartSeconds">Time of its first sample.</param>
/// <param name="EndSeconds">Time of its last sample.</param>
/// <param name="PulseSeconds">Length of a pulse between its -20 dB points.</param>
/// <param name="ReceiverOpensSeconds">Time before which the transmitted pulse or a shut receiver hides echoes; 0: never.</param>
/// <param name="NoiseFraction">Standard deviation of the noise in the record, fraction of full scale.</param>
public readonly record struct LabelLimits(
    double StartSeconds,
    double EndSeconds,
    double PulseSeconds,
    double ReceiverOpensSeconds,
    double NoiseFraction
);
