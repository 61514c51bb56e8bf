namespace EchoToThickness.Simulation.Waves;

/// <summary>The elements that each beam uses, with their gains, delays and the delays that focus them.</summary>
internal static class BeamApertures
{
    /// <summary>One side for each beam; empty when all elements are alike.</summary>
    /// <param name="settings">Settings.</param>
    public static ApertureAxis[] Of(WaveSettings settings)
    {
        int elements = Math.Max(settings.ElementGains.Count, settings.ElementDelaysSeconds.Count);
        if (elements == 0)
            return [];
        if (
            elements < settings.ApertureElements
            || (settings.ElementGains.Count > 0 && settings.ElementGains.Count != elements)
            || (settings.ElementDelaysSeconds.Count > 0 && settings.ElementDelaysSeconds.Count != elements)
        )
            throw new ArgumentException(
                $"{settings.ElementGains.Count} gains and {settings.ElementDelaysSeconds.Count} delays of elements were given for an aperture of "
                    + $"{settings.ApertureElements}: give one of each for every element of the array.",
                nameof(settings)
            );
        ApertureAxis sound = Sound(settings);
        var beams = new ApertureAxis[elements - settings.ApertureElements + 1];
        for (int beam = 0; beam < beams.Length; beam++)
        {
            double[] gains = Enumerable
                .Range(beam, settings.ApertureElements)
                .Select(e => settings.ElementGains.Count > 0 ? settings.ElementGains[e] : 1)
                .ToArray();
            double[] delays = Enumerable
                .Range(0, settings.ApertureElements)
                .Select(i =>
                    (settings.ElementDelaysSeconds.Count > 0 ? settings.ElementDelaysSeconds[beam + i] : 0)
                    + (sound.DelaysSeconds.Length > 0 ? sound.DelaysSeconds[i] : 0)
                )
                .ToArray();
            var axis = new ApertureAxis(settings.ApertureMetres, gains, delays);
            // Equal neighbours share their tables.
            beams[beam] =
                beam > 0
                && beams[beam - 1].Gains.AsSpan().SequenceEqual(gains)
                && beams[beam - 1].DelaysSeconds.AsSpan().SequenceEqual(delays)
                    ? beams[beam - 1]
                    : axis;
        }
        return beams;
    }

    /// <summary>The side with all elements working alike.</summary>
    /// <param name="settings">Settings.</param>
    public static ApertureAxis Sound(WaveSettings settings)
    {
        if (settings.FocusDepthMetres is not { } focus)
            return ApertureAxis.Undivided(settings.ApertureMetres);
        // An element at y sends later by y² / (2 c_s Z) less than the outermost: the outer ones first; Z is the focus as metres of metal.
        double distance =
            focus
            + settings.NominalCouplantMetres
                * settings.CouplantVelocityMetresPerSecond
                / settings.VelocityMetresPerSecond;
        int count = settings.ApertureElements;
        var delays = new double[count];
        for (int i = 0; i < count; i++)
        {
            double y = ((i + 0.5) / count - 0.5) * settings.ApertureMetres;
            delays[i] = -y * y / (2 * settings.VelocityMetresPerSecond * distance);
        }
        return new ApertureAxis(settings.ApertureMetres, Enumerable.Repeat(1.0, count).ToArray(), delays);
    }
}
