using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>What the stored samples are, as a layout map says it.</summary>
public enum StoredForm
{
    /// <summary>Unrectified signal.</summary>
    [Choice("rf", "Unrectified radio-frequency signal.")]
    RadioFrequency,

    /// <summary>Full-wave rectified.</summary>
    [Choice("rectified", "Full-wave rectified: the sign is lost.")]
    Rectified,
}
