namespace EchoToThickness.Simulation;

/// <summary>The wall at every point of the scanned surface: nominal wall less smooth thinning and pits; machined steps overrule both.</summary>
public sealed record WallMap
{
    /// <summary>Wall where nothing is missing, metres.</summary>
    public required double NominalMetres { get; init; }

    /// <summary>Smooth losses; they add up.</summary>
    public IReadOnlyList<Thinning> Thinnings { get; init; } = [];

    /// <summary>Pits; where several overlap the deepest counts.</summary>
    public IReadOnlyList<Pit> Pits { get; init; } = [];

    /// <summary>Machined steps; the first that contains a point decides.</summary>
    public IReadOnlyList<MachinedStep> Steps { get; init; } = [];

    /// <summary>Wall at a point, metres.</summary>
    /// <param name="scanMetres">Scan axis.</param>
    /// <param name="indexMetres">Index axis.</param>
    public double ThicknessAt(double scanMetres, double indexMetres)
    {
        foreach (MachinedStep step in Steps)
        {
            if (step.Area.Contains(scanMetres, indexMetres))
                return step.ThicknessMetres;
        }
        return SmoothAt(scanMetres, indexMetres);
    }

    /// <summary>
    /// Steepness of the far wall at a point (tangent of its angle to the surface), from differences over 0.2 mm; 0 on machined steps,
    /// whose edges do not count for the cells beside them.
    /// </summary>
    /// <param name="scanMetres">Scan axis.</param>
    /// <param name="indexMetres">Index axis.</param>
    public double SlopeAt(double scanMetres, double indexMetres)
    {
        foreach (MachinedStep step in Steps)
        {
            if (step.Area.Contains(scanMetres, indexMetres))
                return 0;
        }
        const double half = 0.1e-3;
        double alongScan =
            (SmoothAt(scanMetres + half, indexMetres) - SmoothAt(scanMetres - half, indexMetres)) / (2 * half);
        double alongIndex =
            (SmoothAt(scanMetres, indexMetres + half) - SmoothAt(scanMetres, indexMetres - half)) / (2 * half);
        return Math.Sqrt(alongScan * alongScan + alongIndex * alongIndex);
    }

    private double SmoothAt(double scanMetres, double indexMetres)
    {
        double wall = NominalMetres;
        foreach (Thinning thinning in Thinnings)
            wall -= thinning.DepthAt(scanMetres, indexMetres);
        double deepest = 0;
        foreach (Pit pit in Pits)
            deepest = Math.Max(deepest, pit.DepthAt(scanMetres, indexMetres));
        return wall - deepest;
    }
}
