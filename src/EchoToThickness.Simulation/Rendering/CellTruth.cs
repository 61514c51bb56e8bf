using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>What is true of one simulated cell; lengths in metres, NaN where there is nothing.</summary>
public readonly record struct CellTruth
{
    /// <summary>Whether an A-scan is stored.</summary>
    public bool IsPresent { get; init; }

    /// <summary>Wall on the beam axis.</summary>
    public double ThicknessMetres { get; init; }

    /// <summary>Smallest wall under the active aperture.</summary>
    public double MinimumThicknessMetres { get; init; }

    /// <summary>Mean wall under the active aperture.</summary>
    public double MeanThicknessMetres { get; init; }

    /// <summary>Depth of a lamination or inclusion on the beam axis, below the surface of the metal.</summary>
    public double ReflectorDepthMetres { get; init; }

    /// <summary>Couplant under the aperture's centre.</summary>
    public double CouplantPathMetres { get; init; }

    /// <summary>Paint and scale on the beam axis.</summary>
    public double CoatingThicknessMetres { get; init; }

    /// <summary>What the cell was made to suffer.</summary>
    public PlantedFailure Planted { get; init; }

    /// <summary>A cell without an A-scan.</summary>
    /// <param name="planted">Why.</param>
    internal static CellTruth Absent(PlantedFailure planted) =>
        new()
        {
            ThicknessMetres = double.NaN,
            MinimumThicknessMetres = double.NaN,
            MeanThicknessMetres = double.NaN,
            ReflectorDepthMetres = double.NaN,
            CouplantPathMetres = double.NaN,
            CoatingThicknessMetres = double.NaN,
            Planted = planted,
        };
}
