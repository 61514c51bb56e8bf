namespace EchoToThickness.Statistics.Extremes;

/// <summary>A level with an interval.</summary>
/// <param name="Level">Estimate.</param>
/// <param name="Lower">Lower end.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="Confidence">Two-sided confidence.</param>
/// <param name="Method">How, in words.</param>
public sealed record LevelInterval(double Level, double Lower, double Upper, double Confidence, string Method);
