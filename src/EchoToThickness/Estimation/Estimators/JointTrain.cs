namespace EchoToThickness.Estimation.Estimators;

/// <summary>Parameters of a train behind its interface.</summary>
/// <param name="Spacing">tau, samples.</param>
/// <param name="Strength">b: back-wall echo 1 against the interface, inverted.</param>
/// <param name="Decay">rho: an echo against the one before.</param>
/// <param name="Phase">Phase of all walls against the inverted reference, radians.</param>
/// <param name="Attenuation">q: an echo's spectrum falls by <c>exp(-q (w - w0) / w0)</c> a bounce.</param>
/// <param name="Echoes">M: echoes that end inside the record.</param>
internal readonly record struct JointTrain(
    double Spacing,
    double Strength,
    double Decay,
    double Phase,
    double Attenuation,
    int Echoes
)
{
    /// <summary>The train after a step; decay stays within 0.02 and 1, steps of the spacing within a sample.</summary>
    public JointTrain Moved(ReadOnlySpan<double> step, bool phase, bool attenuation)
    {
        int at = 2;
        double decay = Echoes > 1 ? Math.Clamp(Decay + step[at++], 0.02, 0.9995) : Decay;
        double turned = phase ? Phase + Math.Clamp(step[at++], -0.5, 0.5) : Phase;
        double lost = attenuation ? Math.Clamp(Attenuation + step[at], -0.2, 2) : Attenuation;
        return new JointTrain(Spacing + Math.Clamp(step[0], -1, 1), Strength + step[1], decay, turned, lost, Echoes);
    }
}
