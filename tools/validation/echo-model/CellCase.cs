namespace EchoToThickness.EchoModel;

/// <summary>One A-scan to compute, as compare_fullwave.py writes it: one JSON object a line, SI.</summary>
internal sealed record CellCase
{
    public required float[] Pulse { get; init; }
    public required int PulseCentre { get; init; }
    public required double PulseRate { get; init; }
    public required double Aperture { get; init; }
    public double? Elevation { get; init; }
    public required double Couplant { get; init; }
    public required double Wall { get; init; }
    public required double Start { get; init; }
    public required double Rate { get; init; }
    public required int Samples { get; init; }
    public double Face { get; init; }
    public bool Conformal { get; init; } = true;
    public double? Radius { get; init; }
    public double Tilt { get; init; }
    public double Paint { get; init; }
    public double Coupled { get; init; } = 1;
    public double LaminationDepth { get; init; }
    public double LaminationCover { get; init; }
    public float[] Patch { get; init; } = [];
    public int PatchAlong { get; init; }
    public int PatchAround { get; init; }
    public double Spacing { get; init; }
}
