namespace EchoToThickness.Estimation.Estimators;

/// <summary>What the estimators that time one echo against the interface share.</summary>
internal static class EchoPair
{
    /// <summary>The first echo that reaches this fraction of the strongest is back-wall echo 1: a plate's first two echoes are nearly equal.</summary>
    public const double StrongFraction = 0.6;

    /// <summary>Where the interface and the first strong echo of the range lie.</summary>
    public static bool Find(EstimationWorkspace workspace, out int front, out int echo)
    {
        front = workspace.Front;
        echo = workspace.FirstStrongEcho(StrongFraction);
        return echo >= 0;
    }

    /// <summary>The estimate of two timed echoes.</summary>
    public static SpacingEstimate Of(EstimationWorkspace workspace, double frontSamples, double echoSamples, int echo)
    {
        double spacing = echoSamples - frontSamples;
        if (!double.IsFinite(spacing) || spacing < workspace.Low - workspace.Scale.Period || !(spacing > 0))
            return SpacingEstimate.None;
        ReadOnlySpan<float> envelope = workspace.Record.Envelope;
        double wall = envelope[echo];
        return SpacingEstimate.None with
        {
            Found = true,
            SpacingSamples = spacing,
            BoundSamples = workspace.PairBound(envelope[workspace.Front], wall),
            SignalRatio = wall / workspace.Record.NoiseFraction,
            FirstOrder = 0,
            LastOrder = 1,
            Decay = 1,
            WallFraction = wall,
        };
    }

    /// <summary>Highest sample of one sign near a sample.</summary>
    public static int Highest(ReadOnlySpan<float> signal, int about, int reach, int sign)
    {
        int best = Math.Clamp(about, 1, signal.Length - 2);
        for (int i = Math.Max(1, about - reach); i <= Math.Min(signal.Length - 2, about + reach); i++)
        {
            if (sign * signal[i] > sign * signal[best])
                best = i;
        }
        return best;
    }

    /// <summary>Sign of the interface's highest half wave, its sample, and the wall's highest half wave of the other sign.</summary>
    public static (int Sign, int Front, int Echo) HalfWaves(EstimationWorkspace workspace, int front, int echo)
    {
        ReadOnlySpan<float> signal = workspace.Record.Real;
        int reach = (int)Math.Ceiling(0.5 * workspace.Scale.Period);
        int up = Highest(signal, front, reach, 1);
        int down = Highest(signal, front, reach, -1);
        int sign = signal[up] >= -signal[down] ? 1 : -1;
        return (sign, sign > 0 ? up : down, Highest(signal, echo, reach, -sign));
    }
}
