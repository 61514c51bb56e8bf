namespace EchoToThickness.Procedures;

/// <summary>
/// A level as a multiple of its reference. Text forms: <c>"30 % of full scale"</c>, <c>"-12 dB of strongest"</c>,
/// <c>"5 x noise"</c>, <c>"-20 dB of followed"</c>.
/// </summary>
/// <param name="Ratio">Positive multiple of the reference (0.3 for 30 %, 0.2512 for -12 dB, 5 for five times).</param>
/// <param name="Reference">What the ratio multiplies.</param>
public readonly record struct LevelRule(double Ratio, LevelReference Reference);
