namespace EchoToThickness.Procedures;

/// <summary>A gate start or width: a time (<c>"0.6 us"</c>) or a depth of metal (<c>"2 mm"</c>), converted with the plan's velocity.</summary>
public readonly record struct GateExtent
{
    private GateExtent(double value, bool isDepth)
    {
        Value = value;
        IsDepth = isDepth;
    }

    /// <summary>Seconds, or metres when <see cref="IsDepth"/>.</summary>
    public double Value { get; }

    /// <summary>Whether <see cref="Value"/> is a depth in metres.</summary>
    public bool IsDepth { get; }

    /// <summary>A time.</summary>
    /// <param name="seconds">Seconds on the time base (round trip).</param>
    public static GateExtent FromSeconds(double seconds) => new(seconds, false);

    /// <summary>A depth of metal.</summary>
    /// <param name="metres">Metres, one way.</param>
    public static GateExtent FromDepth(double metres) => new(metres, true);

    /// <summary>Seconds on the time base: a depth counts there and back.</summary>
    /// <param name="velocityMetresPerSecond">Velocity in the metal.</param>
    public double ToSeconds(double velocityMetresPerSecond) => IsDepth ? 2 * Value / velocityMetresPerSecond : Value;
}
