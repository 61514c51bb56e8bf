using EchoToThickness.Echoes;

namespace EchoToThickness.Pairing;

/// <summary>
/// Tells reverberation of the couplant layer by its own pattern, without knowing when the pulse left: at even spacing the polarity
/// alternates and each echo is the same fraction of the one before. Walls behave otherwise: all of one polarity, the first far weaker
/// against the interface than the second against the first.
/// </summary>
/// <remarks>
/// Each round trip multiplies by the product of the reflection coefficients of the two faces of the layer. It is negative under air with a
/// hard array face, and over metal with a soft one; where it is positive the polarity is the interface's and tells on its own.
/// </remarks>
internal static class LayerEcho
{
    /// <summary>Ratios of successive echoes agree within this factor; spreading and attenuation change slowly.</summary>
    private const double RatioFactor = 2;

    /// <summary>Whether an echo is the first, second or third round trip of a layer whose echoes alternate.</summary>
    /// <param name="record">Prepared record.</param>
    /// <param name="front">The interface.</param>
    /// <param name="candidate">The echo.</param>
    public static bool IsReverberation(EchoRecord record, int front, int candidate)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double distance = echoes[candidate].PositionSamples - echoes[front].PositionSamples;
        for (int order = 1; order <= 3; order++)
        {
            double spacing = distance / order;
            if (spacing < record.Scale.SmallestSpacing)
                break;
            int first = At(record, front, spacing);
            int second = At(record, front, 2 * spacing);
            if (
                first > front
                && second > first
                && record.Sign(front, first) < -0.5
                && record.Sign(front, second) > 0.5
                && IsGeometric(echoes, front, first, second)
            )
                return true;
        }
        return false;
    }

    /// <summary>
    /// Whether an inverted echo comes again at twice its distance, weaker and with its own polarity: a wall, however strong. Neither
    /// ring-down nor a second front nor the couplant does.
    /// </summary>
    /// <param name="record">Prepared record.</param>
    /// <param name="front">The interface.</param>
    /// <param name="candidate">The echo.</param>
    public static bool IsRepeatedWall(EchoRecord record, int front, int candidate)
    {
        ReadOnlySpan<EchoCandidate> echoes = record.Candidates;
        double distance = echoes[candidate].PositionSamples - echoes[front].PositionSamples;
        if (distance < record.Scale.SmallestSpacing)
            return false;
        int again = At(record, front, 2 * distance);
        if (again <= candidate)
            return false;
        double ratio = echoes[again].AmplitudeFraction / echoes[candidate].AmplitudeFraction;
        return ratio is > 0.3 and < 1 && record.Sign(front, candidate) < -0.5 && record.Sign(candidate, again) > 0.5;
    }

    /// <summary>Candidate at a distance behind another; -1 when none.</summary>
    private static int At(EchoRecord record, int from, double distance)
    {
        double position = record.Candidates[from].PositionSamples + distance;
        int q = record.Nearest(position);
        return Math.Abs(record.Candidates[q].PositionSamples - position) < 0.5 * record.Scale.Tolerance ? q : -1;
    }

    private static bool IsGeometric(ReadOnlySpan<EchoCandidate> echoes, int front, int first, int second)
    {
        double near = echoes[first].AmplitudeFraction / echoes[front].AmplitudeFraction;
        double far = echoes[second].AmplitudeFraction / echoes[first].AmplitudeFraction;
        return near < 1 && far < RatioFactor * near && near < RatioFactor * far;
    }
}
