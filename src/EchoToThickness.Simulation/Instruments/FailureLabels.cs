using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Simulation.Waves;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>
/// Labels that follow from times and amplitudes of a cell's echoes alone. Each says what is in the record, not what a rule makes of it.
/// </summary>
/// <remarks>
/// <list type="bullet">
/// <item><see cref="PlantedFailure.SaturatedInterface"/>: interface echo at full scale or above.</item>
/// <item><see cref="PlantedFailure.ClippedTimeBase"/>: interface outside the record, or less than half a pulse of room behind the first back wall.</item>
/// <item><see cref="PlantedFailure.DeadTime"/>: the interface echo begins (half a pulse before its centre) before the receiver hears.</item>
/// <item><see cref="PlantedFailure.ScatteredPit"/>: the first back wall has less than half of what a flat wall would send.</item>
/// <item><see cref="PlantedFailure.DoubledWall"/>: the second back wall is above the first.</item>
/// <item><see cref="PlantedFailure.WeakSignal"/>: the first back wall is below two standard deviations of the noise.</item>
/// <item><see cref="PlantedFailure.ModeConverted"/>: a converted echo of a quarter of the second back wall and three standard deviations.</item>
/// <item><see cref="PlantedFailure.SecondInterface"/>: the couplant's first multiple has 30 % of the interface echo.</item>
/// <item><see cref="PlantedFailure.CouplantMultiple"/>: one of the couplant's multiples, at (k + 1) T_L, falls within half a pulse of
/// back wall n = 1 to 3, at T_L + n 2d/c (without coats k T_L = n 2d/c), and has a tenth of its amplitude and three standard deviations of noise.</item>
/// </list>
/// The limits are ours: no source. Echo times that are not there are NaN, and nothing is said of them.
/// </remarks>
public static class FailureLabels
{
    private const double Scattered = 0.5;
    private const double LikeAnInterface = 0.3;
    private const double Disturbing = 0.1;

    /// <summary>Labels of a cell.</summary>
    /// <param name="facts">Its echoes before the receiver's gain steps.</param>
    /// <param name="gainDecibels">Gain of this cell against the scene's, decibels.</param>
    /// <param name="limits">What the record can hold.</param>
    public static PlantedFailure For(in EchoFacts facts, double gainDecibels, in LabelLimits limits)
    {
        double gain = Math.Pow(10, gainDecibels / 20);
        double interfaceLevel = Math.Abs(facts.InterfaceAmplitude) * gain;
        double first = Math.Abs(facts.BackWallAmplitude) * gain;
        double second = Math.Abs(facts.SecondBackWallAmplitude) * gain;
        PlantedFailure labels = OfTimes(facts, limits);
        if (interfaceLevel >= 1)
            labels |= PlantedFailure.SaturatedInterface;
        if (interfaceLevel == 0 || first == 0)
            return labels;
        if (facts.Coherence < Scattered)
            labels |= PlantedFailure.ScatteredPit;
        if (first < second)
            labels |= PlantedFailure.DoubledWall;
        if (first < 2 * limits.NoiseFraction)
            labels |= PlantedFailure.WeakSignal;
        double converted = Math.Abs(facts.ModeConvertedAmplitude) * gain;
        if (converted > 0 && converted >= Math.Max(0.25 * second, 3 * limits.NoiseFraction))
            labels |= PlantedFailure.ModeConverted;
        return labels | OfMultiples(facts, gain, limits);
    }

    private static PlantedFailure OfTimes(in EchoFacts facts, in LabelLimits limits)
    {
        PlantedFailure labels = PlantedFailure.None;
        if (
            facts.InterfaceSeconds < limits.StartSeconds
            || facts.InterfaceSeconds > limits.EndSeconds
            || facts.BackWallSeconds + limits.PulseSeconds / 2 > limits.EndSeconds
        )
            labels |= PlantedFailure.ClippedTimeBase;
        if (
            limits.ReceiverOpensSeconds > 0
            && facts.InterfaceSeconds - limits.PulseSeconds / 2 < limits.ReceiverOpensSeconds
        )
            labels |= PlantedFailure.DeadTime;
        return labels;
    }

    private static PlantedFailure OfMultiples(in EchoFacts facts, double gain, in LabelLimits limits)
    {
        PlantedFailure labels = PlantedFailure.None;
        double interfaceLevel = Math.Abs(facts.InterfaceAmplitude) * gain;
        double level = Math.Abs(facts.CouplantMultipleAmplitude) * gain;
        double step = facts.CouplantMultipleSeconds - facts.InterfaceSeconds;
        if (!(step > 0) || level == 0)
            return labels;
        if (level >= LikeAnInterface * interfaceLevel && facts.CouplantMultipleSeconds <= limits.EndSeconds)
            labels |= PlantedFailure.SecondInterface;
        double ratio = Math.Min(level / interfaceLevel, 1);
        double period = facts.BackWallSeconds - facts.MetalSeconds;
        double first = Math.Abs(facts.BackWallAmplitude) * gain;
        double fall = Math.Min(Math.Abs(facts.SecondBackWallAmplitude) * gain / first, 1);
        double time = facts.CouplantMultipleSeconds;
        // Multiples behind the third back wall meet nothing; the factor 1e-4 ends trains that hardly decay.
        for (
            ;
            time <= limits.EndSeconds && level > 3 * limits.NoiseFraction && level > 1e-4 * interfaceLevel;
            time += step
        )
        {
            double wall = first;
            for (int n = 1; n <= 3; n++, wall *= fall)
            {
                double apart = Math.Abs(time - facts.MetalSeconds - n * period);
                if (apart < limits.PulseSeconds / 2 && level >= Disturbing * wall)
                    labels |= PlantedFailure.CouplantMultiple;
            }
            level *= ratio;
            if (time > facts.MetalSeconds + 3 * period + limits.PulseSeconds)
                break;
        }
        return labels;
    }
}
