using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Random;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Waves;

/// <summary>Takes the echo model's settings from a scene.</summary>
internal static class SceneWaves
{
    /// <summary>Settings of a scene.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="folder">Folder from which the pulse file's path counts.</param>
    public static WaveSettings Settings(Scene scene, string folder)
    {
        ArgumentNullException.ThrowIfNull(scene);
        ArgumentNullException.ThrowIfNull(folder);
        ArraySection array = scene.Array;
        MaterialSection material = scene.Material;
        CouplingSection coupling = scene.Coupling;
        return new WaveSettings
        {
            Pulse = Pulse(array, folder),
            VelocityMetresPerSecond = SceneTimeBase.VelocityMetresPerSecond(material),
            ShearVelocityMetresPerSecond = material.ShearVelocityMetresPerSecond,
            DensityKilogramsPerCubicMetre = material.DensityKilogramsPerCubicMetre,
            AttenuationDecibelsPerMetre = material.AttenuationDecibelsPerMetre,
            AttenuationFrequencyHz = material.AttenuationFrequencyHz,
            AttenuationPower = material.AttenuationPower,
            Dispersion = material.Dispersion,
            CouplantVelocityMetresPerSecond = coupling.VelocityMetresPerSecond,
            CouplantDensityKilogramsPerCubicMetre = coupling.DensityKilogramsPerCubicMetre,
            CouplantAttenuationDecibelsPerMetre = coupling.AttenuationDecibelsPerMetre,
            NominalCouplantMetres = coupling.ThicknessMetres,
            NominalWallMetres = ComponentShape.Of(scene.Component).NominalWallMetres,
            FaceReflection = coupling.Reverberation,
            InterfaceAmplitudeFraction = scene.Instrument.InterfaceAmplitudeFraction,
            Diffraction = array.Diffraction,
            ApertureMetres = array.ApertureElements * array.PitchMetres,
            ElevationMetres = array.ElevationMetres,
            ApertureElements = array.ApertureElements,
            ElementGains = Gains(scene),
            ElementDelaysSeconds = Delays(scene),
            FocusDepthMetres = array.Focus == FocusRule.Depth ? array.FocusDepthMetres : null,
            IsConformal = array.IsConformal,
        };
    }

    private static double[] Gains(Scene scene)
    {
        ArraySection array = scene.Array;
        if (array.DeadElements.Count == 0 && array.GainSpreadDecibels == 0)
            return [];
        double[] deviates = Deviates(scene, RandomStream.ElementGain);
        var gains = new double[array.Elements];
        for (int i = 0; i < gains.Length; i++)
        {
            gains[i] = array.DeadElements.Contains(i + 1)
                ? 0
                : Math.Pow(10, array.GainSpreadDecibels * deviates[i] / 20);
        }
        return gains;
    }

    private static double[] Delays(Scene scene)
    {
        if (scene.Array.DelaySpreadSeconds == 0)
            return [];
        return Array.ConvertAll(Deviates(scene, RandomStream.ElementDelay), d => d * scene.Array.DelaySpreadSeconds);
    }

    private static double[] Deviates(Scene scene, RandomStream stream)
    {
        var deviates = new float[scene.Array.Elements];
        CounterNoise.AddNormal(deviates, 1, (ulong)scene.Header.Seed, (ulong)stream);
        return Array.ConvertAll(deviates, d => (double)d);
    }

    private static WavePulse Pulse(ArraySection array, string folder) =>
        array.Pulse == PulseSource.File
            ? FromFile(Path.Combine(folder, array.PulseFile ?? ""))
            : WavePulse.Gabor(array.FrequencyHz, array.BandwidthFraction, array.PhaseRadians);

    /// <summary>Two columns, time in microseconds and amplitude; a first line that is not numbers is a heading; time 0 is the centre if it lies within.</summary>
    private static WavePulse FromFile(string path)
    {
        const int LongestCharacters = 4 << 20;
        string[] lines;
        try
        {
            // A device or pipe has no length: no more is read than a pulse can be.
            using var reader = new StreamReader(path);
            var text = new char[LongestCharacters];
            int length = reader.ReadBlock(text);
            if (length == LongestCharacters)
                throw Bad(path, "It is larger than 4 MB, so it is no pulse.");
            lines = new string(text, 0, length).Split('\n', StringSplitOptions.TrimEntries);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw Bad(path, $"The pulse file cannot be read: {e.Message}", e);
        }
        var times = new List<double>();
        var values = new List<float>();
        for (int i = 0; i < lines.Length; i++)
        {
            string[] cells = lines[i].Split([',', ';', '\t'], StringSplitOptions.TrimEntries);
            if (lines[i].Trim().Length == 0 || lines[i].StartsWith('#'))
                continue;
            if (
                cells.Length >= 2
                && double.TryParse(cells[0], NumberStyles.Float, CultureInfo.InvariantCulture, out double time)
                && float.TryParse(cells[1], NumberStyles.Float, CultureInfo.InvariantCulture, out float value)
            )
            {
                times.Add(1e-6 * time);
                values.Add(value);
            }
            else if (times.Count > 0)
                throw Bad(path, $"Line {i + 1} is not two numbers: '{lines[i]}'.");
        }
        if (times.Count < 8)
            throw Bad(path, $"Only {times.Count} samples were found; a pulse needs at least 8.");
        double interval = (times[^1] - times[0]) / (times.Count - 1);
        for (int i = 0; i < times.Count; i++)
        {
            if (!(interval > 0) || Math.Abs(times[i] - times[0] - i * interval) > 0.02 * interval)
                throw Bad(path, $"The times are not equally spaced and ascending (sample {i + 1}).");
        }
        int centre = (int)Math.Round(-times[0] / interval);
        bool within = centre > 0 && centre < times.Count - 1;
        try
        {
            return WavePulse.Measured(values.ToArray(), 1 / interval, within ? centre : null);
        }
        catch (ArgumentException e)
        {
            throw Bad(path, e.Message, e);
        }
    }

    private static ProcedureException Bad(string path, string what, Exception? cause = null) =>
        new(
            [
                new ProcedureFinding(
                    "array.pulse_file",
                    $"{path}: {what}",
                    "give a CSV file of two columns, time in microseconds in equal steps and amplitude, at least 8 rows, beginning and ending near zero."
                ),
            ],
            cause
        );
}
