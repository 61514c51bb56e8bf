using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Section <c>[scan]</c>: where A-scans are taken.</summary>
public sealed record ScanSection
{
    /// <summary>Direction of the scan.</summary>
    [ProcedureKey("direction", "Direction of the scan.")]
    public ScanDirection Direction { get; init; } = ScanDirection.Along;

    /// <summary>Scan lines.</summary>
    [ProcedureKey("lines", "Scan lines; 0: as many as cover the component.", Minimum = 0, Maximum = 1000)]
    public int Lines { get; init; } = 1;

    /// <summary>Position of the first line's array centre, along the index axis; left out: the first line covers the component from its edge (a pipe: starts at the extrados).</summary>
    [ProcedureKey(
        "first_line",
        "Position of the first line's array centre, along the index axis; left out: the first line covers the component from its edge (a pipe: starts at the extrados)."
    )]
    public SceneLength? FirstLine { get; init; }

    /// <summary>Distance of lines; left out: the beams' extent less overlap (around an elbow, on the extrados).</summary>
    [ProcedureKey(
        "index_step",
        "Distance of lines; left out: the beams' extent less overlap (around an elbow, on the extrados).",
        Dimension.Length,
        Minimum = 0
    )]
    public double? IndexStepMetres { get; init; }

    /// <summary>Overlap of neighbouring lines.</summary>
    [ProcedureKey("overlap", "Overlap of neighbouring lines.", Dimension.Length, Minimum = 0)]
    public double OverlapMetres { get; init; } = 0;

    /// <summary>Where scan positions count from.</summary>
    [ProcedureKey("start", "Where scan positions count from.")]
    public ScanStart Start { get; init; } = ScanStart.End;

    /// <summary>Start of the scanned range; left out: the start of the component.</summary>
    [ProcedureKey("from", "Start of the scanned range; left out: the start of the component.")]
    public SceneLength? From { get; init; }

    /// <summary>End of the scanned range; left out: the end of the component.</summary>
    [ProcedureKey("to", "End of the scanned range; left out: the end of the component.")]
    public SceneLength? To { get; init; }

    /// <summary>Distance of scan positions.</summary>
    [ProcedureKey("pitch", "Distance of scan positions.", Dimension.Length, Minimum = 1e-5)]
    public double PitchMetres { get; init; } = 1e-3;

    /// <summary>Line along which the encoder wheel runs.</summary>
    [ProcedureKey("encoder_radius", "Line along which the encoder wheel runs.")]
    public EncoderPath Encoder { get; init; } = EncoderPath.Line;
}
