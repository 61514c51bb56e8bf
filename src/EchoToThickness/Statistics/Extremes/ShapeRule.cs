namespace EchoToThickness.Statistics.Extremes;

/// <summary>What a fit may do with the shape.</summary>
/// <param name="Name">Name in words.</param>
/// <param name="IsFixed">Whether the shape is held at <paramref name="Centre"/>.</param>
/// <param name="Centre">Fixed value, or mean of the normal penalty.</param>
/// <param name="Deviation">Deviation of the normal penalty; infinity for none.</param>
public sealed record ShapeRule(string Name, bool IsFixed, double Centre, double Deviation)
{
    /// <summary>Shape 0 held fast: Gumbel, or exponential excesses.</summary>
    public static ShapeRule Gumbel { get; } = new("Gumbel", true, 0, 0);

    /// <summary>Shape free. On few blocks such a fit covers far less than it claims; for large samples and studies.</summary>
    public static ShapeRule Free { get; } = new("free shape", false, 0, double.PositiveInfinity);

    /// <summary>Shape drawn to 0 by a normal penalty of deviation 0.1. The figure is our choice, without source.</summary>
    public static ShapeRule Penalised { get; } = new("penalised shape", false, 0, 0.1);

    /// <summary>What is added to the negative log-likelihood.</summary>
    /// <param name="shape">Shape.</param>
    public double Penalty(double shape) =>
        IsFixed || double.IsInfinity(Deviation) ? 0 : 0.5 * Math.Pow((shape - Centre) / Deviation, 2);
}
