using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Section <c>[acquisition]</c>: how the A-scans were taken. What is left out stays unknown.</summary>
public sealed record AcquisitionLayout
{
    /// <summary>Samples' form.</summary>
    [ProcedureKey("form", "Whether the samples are radio frequency or rectified.")]
    public StoredForm Form { get; init; } = StoredForm.RadioFrequency;

    /// <summary>Centre frequency.</summary>
    [ProcedureKey("frequency", "Nominal centre frequency.")]
    public ValueSource? Frequency { get; init; }

    /// <summary>Relative bandwidth.</summary>
    [ProcedureKey("bandwidth", "Relative bandwidth at -6 dB, as a fraction ('60 %', or a number with scale 0.01).")]
    public ValueSource? Bandwidth { get; init; }

    /// <summary>Active aperture.</summary>
    [ProcedureKey("aperture", "Active aperture along the array.")]
    public ValueSource? Aperture { get; init; }

    /// <summary>Element pitch.</summary>
    [ProcedureKey("pitch", "Pitch of the elements.")]
    public ValueSource? Pitch { get; init; }

    /// <summary>Elements.</summary>
    [ProcedureKey("elements", "Elements of the array.")]
    public ValueSource? Elements { get; init; }

    /// <summary>Gain.</summary>
    [ProcedureKey("gain", "Receiver gain.")]
    public ValueSource? Gain { get; init; }

    /// <summary>Averages.</summary>
    [ProcedureKey("averages", "Shots averaged into one A-scan.")]
    public ValueSource? Averages { get; init; }

    /// <summary>Velocity in the metal.</summary>
    [ProcedureKey("velocity", "Longitudinal velocity in the metal as recorded.")]
    public ValueSource? Velocity { get; init; }

    /// <summary>Shear velocity.</summary>
    [ProcedureKey("shear_velocity", "Shear velocity in the metal.")]
    public ValueSource? ShearVelocity { get; init; }

    /// <summary>Velocity in the couplant.</summary>
    [ProcedureKey("couplant_velocity", "Velocity in the couplant.")]
    public ValueSource? CouplantVelocity { get; init; }

    /// <summary>Part temperature.</summary>
    [ProcedureKey("temperature", "Temperature of the part.")]
    public ValueSource? Temperature { get; init; }
}
