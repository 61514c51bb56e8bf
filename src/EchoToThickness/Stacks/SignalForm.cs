namespace EchoToThickness.Stacks;

/// <summary>What the stored samples are.</summary>
public enum SignalForm
{
    /// <summary>Unrectified radio-frequency signal.</summary>
    RadioFrequency,

    /// <summary>Full-wave rectified: sign is lost, so polarity and phase picks cannot be used.</summary>
    Rectified,
}
