using EchoToThickness.Pairing;
using EchoToThickness.Stacks;

namespace EchoToThickness.Components;

/// <summary>The measured cells of one scan line with what places them. Arrays have the shape [scan, beam]; they are not copied and must not change.</summary>
public sealed record LineCells
{
    /// <summary>Name of the line.</summary>
    public required string Name { get; init; }

    /// <summary>Scan positions.</summary>
    public required int Scans { get; init; }

    /// <summary>Beams.</summary>
    public required int Beams { get; init; }

    /// <summary>Shape [scan]: metres on the encoder's track, rising or falling.</summary>
    public required IReadOnlyList<double> ScanPositionsMetres { get; init; }

    /// <summary>Shape [beam]: metres along the index axis.</summary>
    public required IReadOnlyList<double> IndexPositionsMetres { get; init; }

    /// <summary>Where the line lies.</summary>
    public required LinePlacement Placement { get; init; }

    /// <summary>Wall, metres; NaN where not measured.</summary>
    public required float[] ThicknessMetres { get; init; }

    /// <summary>What became of each cell.</summary>
    public required CellStatus[] Status { get; init; }

    /// <summary>Combined standard uncertainty, metres; empty when the grid has none.</summary>
    public float[] UncertaintyMetres { get; init; } = [];

    /// <summary>Its part that is independent from cell to cell, metres; empty when not known apart.</summary>
    public float[] NoiseMetres { get; init; } = [];

    /// <summary>Probability of a wrong echo; empty when the grid has none.</summary>
    public float[] WrongEcho { get; init; } = [];

    /// <summary>Peak-to-noise ratio, decibels; empty when the grid has none.</summary>
    public float[] SignalToNoise { get; init; } = [];

    /// <summary>Second wall that the cell's echoes allow (the runner-up), metres; NaN for none; empty when the grid has none.</summary>
    public float[] SecondWallMetres { get; init; } = [];

    /// <summary>Share of the second wall, 0 (no rival) to 0.5 (a tie); goes with <see cref="SecondWallMetres"/>.</summary>
    public float[] SecondShare { get; init; } = [];

    /// <summary>Depth of a laminar reflector in front of the wall, metres; NaN for none; empty when the grid has none.</summary>
    public float[] ReflectorDepthMetres { get; init; } = [];

    /// <summary>Shape [scan]: metres on the track added to each scan position by a correction; empty for none.</summary>
    public double[] ScanShiftMetres { get; init; } = [];

    /// <summary>Metres added to all index positions by a correction.</summary>
    public double IndexShiftMetres { get; init; }

    /// <summary>Whether a cell holds a wall that statistics may use.</summary>
    /// <param name="cell">Index <c>scan * Beams + beam</c>.</param>
    public bool IsMeasured(int cell) =>
        Status[cell] is CellStatus.Measured or CellStatus.LaminarReflector && float.IsFinite(ThicknessMetres[cell]);

    internal double Uncertainty(int cell) => UncertaintyMetres.Length > 0 ? Sound(UncertaintyMetres[cell]) : 0;

    internal double Noise(int cell) => NoiseMetres.Length > 0 ? Sound(NoiseMetres[cell]) : Uncertainty(cell);

    internal double Wrong(int cell) => WrongEcho.Length > 0 ? WrongEcho[cell] : double.NaN;

    internal double Snr(int cell) => SignalToNoise.Length > 0 ? SignalToNoise[cell] : double.NaN;

    /// <summary>The other wall of a cell with its share; that of a laminar reflector is the reflector's depth.</summary>
    internal (double WallMetres, double Share) Second(int cell) =>
        SecondShare.Length > 0
        && SecondShare[cell] > 0
        && Status[cell] == CellStatus.LaminarReflector
        && float.IsFinite((float)Reflector(cell))
            ? (Reflector(cell), SecondShare[cell])
        : SecondWallMetres.Length > 0 && SecondShare[cell] > 0 && float.IsFinite(SecondWallMetres[cell])
            ? (SecondWallMetres[cell], SecondShare[cell])
        : (double.NaN, 0);

    internal double Reflector(int cell) => ReflectorDepthMetres.Length > 0 ? ReflectorDepthMetres[cell] : double.NaN;

    private static double Sound(float value) => float.IsFinite(value) ? value : 0;
}
