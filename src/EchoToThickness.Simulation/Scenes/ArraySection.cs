using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Section <c>[array]</c>: the array and its pulse.</summary>
public sealed record ArraySection
{
    /// <summary>Elements.</summary>
    [ProcedureKey("elements", "Elements.", Minimum = 1, Maximum = 4096)]
    public int Elements { get; init; } = 64;

    /// <summary>Distance of elements.</summary>
    [ProcedureKey("pitch", "Distance of elements.", Dimension.Length, Minimum = 1e-5)]
    public double PitchMetres { get; init; } = 1e-3;

    /// <summary>Length of an element, along the scan.</summary>
    [ProcedureKey("elevation", "Length of an element, along the scan.", Dimension.Length, Minimum = 1e-4)]
    public double ElevationMetres { get; init; } = 8e-3;

    /// <summary>Elements that fire together.</summary>
    [ProcedureKey("aperture_elements", "Elements that fire together.", Minimum = 1, Maximum = 1024)]
    public int ApertureElements { get; init; } = 8;

    /// <summary>Centre frequency.</summary>
    [ProcedureKey("frequency", "Centre frequency.", Dimension.Frequency, Minimum = 1e5, Maximum = 1e8)]
    public double FrequencyHz { get; init; } = 7e6;

    /// <summary>Relative bandwidth at -6 dB of the echo.</summary>
    [ProcedureKey("bandwidth", "Relative bandwidth at -6 dB of the echo.", Dimension.Fraction, Maximum = 1.6)]
    public double BandwidthFraction { get; init; } = 0.6;

    /// <summary>Where the pulse comes from.</summary>
    [ProcedureKey("pulse", "Where the pulse comes from.")]
    public PulseSource Pulse { get; init; } = PulseSource.Gabor;

    /// <summary>CSV file with two columns, time in microseconds and amplitude; the path counts from the scene's folder.</summary>
    [ProcedureKey(
        "pulse_file",
        "CSV file with two columns, time in microseconds and amplitude; the path counts from the scene's folder."
    )]
    public string? PulseFile { get; init; }

    /// <summary>Phase of the pulse.</summary>
    [ProcedureKey("phase", "Phase of the pulse.", Dimension.Angle)]
    public double PhaseRadians { get; init; }

    /// <summary>How the active aperture is focused.</summary>
    [ProcedureKey("focus", "How the active aperture is focused.")]
    public FocusRule Focus { get; init; } = FocusRule.None;

    /// <summary>Depth in the metal at which the aperture is focused.</summary>
    [ProcedureKey("focus_depth", "Depth in the metal at which the aperture is focused.", Dimension.Length, Minimum = 0)]
    public double FocusDepthMetres { get; init; } = 10e-3;

    /// <summary>Elements that do not work, counted from 1.</summary>
    [ProcedureKey("dead_elements", "Elements that do not work, counted from 1.")]
    public IReadOnlyList<int> DeadElements { get; init; } = [];

    /// <summary>Standard deviation of the elements' gains.</summary>
    [ProcedureKey("gain_spread", "Standard deviation of the elements' gains.", Dimension.Decibel, Minimum = 0)]
    public double GainSpreadDecibels { get; init; } = 0;

    /// <summary>Standard deviation of the elements' delays.</summary>
    [ProcedureKey("delay_spread", "Standard deviation of the elements' delays.", Dimension.Time, Minimum = 0)]
    public double DelaySpreadSeconds { get; init; } = 0;

    /// <summary>The array follows the surface; a flat one stands off at its ends.</summary>
    [ProcedureKey("conformal", "The array follows the surface; a flat one stands off at its ends.")]
    public bool IsConformal { get; init; } = true;

    /// <summary>Diffraction of the aperture; false: plane waves, whose times are exactly 2 d / c.</summary>
    [ProcedureKey("diffraction", "Diffraction of the aperture; false: plane waves, whose times are exactly 2 d / c.")]
    public bool Diffraction { get; init; } = true;
}
