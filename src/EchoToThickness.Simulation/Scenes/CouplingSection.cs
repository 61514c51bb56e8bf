using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Section <c>[coupling]</c>: the layer between array and surface.</summary>
public sealed record CouplingSection
{
    /// <summary>Longitudinal velocity.</summary>
    [ProcedureKey("velocity", "Longitudinal velocity.", Dimension.Velocity, Minimum = 100)]
    public double VelocityMetresPerSecond { get; init; } = 1480;

    /// <summary>Density.</summary>
    [ProcedureKey("density", "Density.", Dimension.Density, Minimum = 1)]
    public double DensityKilogramsPerCubicMetre { get; init; } = 1000;

    /// <summary>Attenuation one way at the array's frequency.</summary>
    [ProcedureKey("attenuation", "Attenuation one way at the array's frequency.", Dimension.Attenuation, Minimum = 0)]
    public double AttenuationDecibelsPerMetre { get; init; } = 0;

    /// <summary>Mean thickness.</summary>
    [ProcedureKey("thickness", "Mean thickness.", Dimension.Length, Minimum = 0)]
    public double ThicknessMetres { get; init; } = 5e-3;

    /// <summary>Change of the thickness from the start to the end of a line.</summary>
    [ProcedureKey("drift", "Change of the thickness from the start to the end of a line.", Dimension.Length)]
    public double DriftMetres { get; init; } = 0;

    /// <summary>Amplitude of a wave in the thickness.</summary>
    [ProcedureKey("waviness", "Amplitude of a wave in the thickness.", Dimension.Length, Minimum = 0)]
    public double WavinessMetres { get; init; } = 0;

    /// <summary>Period of the wave along the scan; 0: none.</summary>
    [ProcedureKey("wave_period_along", "Period of the wave along the scan; 0: none.", Dimension.Length, Minimum = 0)]
    public double WavePeriodAlongMetres { get; init; } = 60e-3;

    /// <summary>Period of the wave along the array; 0: none.</summary>
    [ProcedureKey("wave_period_around", "Period of the wave along the array; 0: none.", Dimension.Length, Minimum = 0)]
    public double WavePeriodAroundMetres { get; init; } = 0;

    /// <summary>Standard deviation of the thickness from one scan position to the next.</summary>
    [ProcedureKey(
        "jitter",
        "Standard deviation of the thickness from one scan position to the next.",
        Dimension.Length,
        Minimum = 0
    )]
    public double JitterMetres { get; init; } = 0;

    /// <summary>Thickness added where the array bridges the intrados.</summary>
    [ProcedureKey(
        "lift_off_intrados",
        "Thickness added where the array bridges the intrados.",
        Dimension.Length,
        Minimum = 0
    )]
    public double IntradosLiftOffMetres { get; init; } = 0;

    /// <summary>Half width of that strip around the intrados.</summary>
    [ProcedureKey("lift_off_half_width", "Half width of that strip around the intrados.", Dimension.Angle, Minimum = 0)]
    public double IntradosHalfWidthRadians { get; init; } = 0.5;

    /// <summary>Tilt of the array along the scan.</summary>
    [ProcedureKey("tilt_along", "Tilt of the array along the scan.", Dimension.Angle)]
    public double TiltAlongRadians { get; init; }

    /// <summary>Tilt of the array along its elements.</summary>
    [ProcedureKey("tilt_across", "Tilt of the array along its elements.", Dimension.Angle)]
    public double TiltAcrossRadians { get; init; }

    /// <summary>Reflection coefficient of the array's face: gives the multiples of the couplant.</summary>
    [ProcedureKey(
        "reverberation",
        "Reflection coefficient of the array's face: gives the multiples of the couplant.",
        Dimension.Fraction,
        Minimum = -1,
        Maximum = 1
    )]
    public double Reverberation { get; init; } = 0;

    /// <summary>Air bubbles strewn over a region.</summary>
    [ProcedureKey("bubble", "Air bubbles strewn over a region.")]
    public IReadOnlyList<BubbleRegion> Bubbles { get; init; } = [];

    /// <summary>A region without couplant.</summary>
    [ProcedureKey("dry", "A region without couplant.")]
    public IReadOnlyList<DryRegion> Dry { get; init; } = [];

    /// <summary>A region where the array stands off.</summary>
    [ProcedureKey("lift_off", "A region where the array stands off by a step.")]
    public IReadOnlyList<LiftOffRegion> LiftOffs { get; init; } = [];
}
