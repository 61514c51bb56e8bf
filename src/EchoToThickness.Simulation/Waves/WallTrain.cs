namespace EchoToThickness.Simulation.Waves;

/// <summary>A reflector whose repeats are added: the far wall, or a lamination.</summary>
/// <param name="DepthMetres">Depth of the reflector.</param>
/// <param name="OpenShare">Part of the footprint from which it is seen undisturbed.</param>
/// <param name="CoveredShare">Part from which it is seen through a lamination.</param>
/// <param name="ThroughLamination">What passes a lamination twice.</param>
/// <param name="Reflection">Reflection coefficient; null: that of the far wall.</param>
internal readonly record struct WallTrain(
    double DepthMetres,
    double OpenShare,
    double CoveredShare,
    double ThroughLamination,
    double? Reflection
)
{
    /// <summary>Whether this is the far wall.</summary>
    public bool IsWall => Reflection is null;

    /// <summary>What of the footprint takes part in the echo with n round trips.</summary>
    /// <param name="n">Round trips.</param>
    public double Share(int n) => n == 0 ? 1 : OpenShare + CoveredShare * Math.Pow(ThroughLamination, n);
}
