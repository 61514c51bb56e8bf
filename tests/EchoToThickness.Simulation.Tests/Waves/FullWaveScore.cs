namespace EchoToThickness.Simulation.Tests.Waves;

/// <summary>One A-scan of the echo model against that of the full wave.</summary>
/// <param name="Correlation">Of the envelopes, from the first wall to the end of the second.</param>
/// <param name="FirstDecibels">First back wall over interface, model over full wave.</param>
/// <param name="SecondDecibels">Second back wall over interface, model over full wave; NaN outside the record.</param>
/// <param name="FirstSeconds">Time of the strongest envelope of the first back wall, model less full wave.</param>
internal sealed record FullWaveScore(
    double Correlation,
    double FirstDecibels,
    double SecondDecibels,
    double FirstSeconds
)
{
    public static FullWaveScore Of(FullWaveStack stack, int position, int beam, double paintMetres, float[] model)
    {
        double[] truth = FullWaveStack.Envelope(stack.Record(position, beam));
        double[] ours = FullWaveStack.Envelope([.. model.Select(v => (double)v)]);
        double wall = stack.Truth("thickness", position, beam);
        double least = Math.Min(wall, stack.Truth("minimum_thickness", position, beam));
        double face = stack.InterfaceSeconds(position, beam);
        double front = face + 2 * paintMetres / 2500;
        double trip = 2 * wall / FullWaveStack.SteelVelocity;
        double first = front + 2 * least / FullWaveStack.SteelVelocity - 0.25e-6;
        (double a, double b, double c) = (0, 0, 0);
        for (int i = 0; i < truth.Length; i++)
        {
            double t = stack.StartSeconds + i / stack.RateHz;
            if (t <= Math.Max(first, face + 0.55e-6) || t >= front + 2 * trip + 0.6e-6)
                continue;
            a += truth[i] * ours[i];
            b += truth[i] * truth[i];
            c += ours[i] * ours[i];
        }
        (double level, _) = Ratio(face - 0.4e-6, face + 0.4e-6);
        (double wallOne, double late) = Ratio(first, front + trip + 0.45e-6);
        (double wallTwo, _) = Ratio(front + 2 * trip - 0.3e-6, front + 2 * trip + 0.4e-6);
        return new FullWaveScore(a / Math.Sqrt(b * c), wallOne - level, wallTwo - level, late);

        (double Decibels, double Seconds) Ratio(double from, double to)
        {
            (double peak, double at) = Peak(truth);
            (double ourPeak, double ourAt) = Peak(ours);
            return (20 * Math.Log10(ourPeak / peak), ourAt - at);

            (double Value, double Seconds) Peak(double[] envelope)
            {
                (double value, double seconds) = (double.NaN, double.NaN);
                for (int i = 0; i < envelope.Length; i++)
                {
                    double t = stack.StartSeconds + i / stack.RateHz;
                    if (t >= from && t <= to && !(envelope[i] <= value))
                        (value, seconds) = (envelope[i], t);
                }
                return (value, seconds);
            }
        }
    }
}
