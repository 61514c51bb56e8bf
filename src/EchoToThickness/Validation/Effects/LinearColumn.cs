namespace EchoToThickness.Validation.Effects;

/// <summary>A column of a linear model.</summary>
/// <param name="Name">Name, for tables.</param>
/// <param name="Values">Shape [observation].</param>
public sealed record LinearColumn(string Name, IReadOnlyList<double> Values)
{
    /// <summary>The mean.</summary>
    /// <param name="count">Observations.</param>
    public static LinearColumn One(int count) => new("mean", Enumerable.Repeat(1.0, count).ToArray());
}
