using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Waves;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Waves;

/// <summary>
/// The echo model against the full-wave reference stacks, an outside source (two-dimensional elastic finite differences). Expected numbers are the rows
/// of the table "Against the full-wave stacks" of docs/theory/echo-model.md, which tools/validation/echo-model/compare_fullwave.py prints;
/// tolerances: its rounding, and the ends of the envelope's transform, which are not the same here.
/// </summary>
public sealed class FullWaveTests
{
    private static readonly Lazy<WavePulse[]> Pulses = new(() =>
    {
        FullWaveStack flat = FullWaveStack.Open("C1");
        return [flat.Pulse(0, 2), flat.Pulse(1, 1)];
    });

    private readonly Dictionary<(int, double, double), (WaveModel Model, WaveWorkspace Workspace)> _models = [];
    private readonly CellView _cell = new();

    [Fact]
    public void FlatWalls_FineGrain_AgreeInEveryCell()
    {
        // The third position has coarse grain, which the model does not scatter.
        foreach (FullWaveScore score in Score("C1", [0, 1]))
        {
            Assert.InRange(score.Correlation, 0.98, 1);
            // 1 dB, and of 24 cells with a spread of 0.35 dB about +0.5 dB the farthest.
            Assert.InRange(score.FirstDecibels, -0.5, 1.6);
            // A fifth of the period at 7 MHz.
            Assert.InRange(score.FirstSeconds, -28e-9, 28e-9);
        }
    }

    [Theory]
    [InlineData("C1", new[] { 0, 1, 2 }, 0.991, 0.848, 0.4, 0.7, 0.6, 0)]
    [InlineData("C1E", new[] { 0, 1 }, 0.986, 0.928, 0.5, 0.7, 0.7, 0)]
    [InlineData("C5", new[] { 2, 3, 4, 7, 8 }, 0.975, 0.919, 0.2, 0.6, 0.4, 0)]
    [InlineData("C6", new[] { 0 }, 0.994, 0.994, -1.1, 0.1, -0.6, 10)]
    [InlineData("C6", new[] { 1 }, 0.968, 0.967, 0.9, 0.2, 1.3, 20)]
    [InlineData("C7B", new[] { 1 }, 0.953, 0.911, 2.1, 1.2, 3.1, 0)]
    [InlineData("C7B", new[] { 0, 4 }, 0.950, 0.884, 0.1, 1.5, 2.2, -5)]
    [InlineData("C7B", new[] { 3 }, 0.940, 0.894, -0.3, 0.3, 2.4, -30)]
    [InlineData("C7B", new[] { 2 }, 0.873, 0.853, -0.2, 0.7, double.NaN, -30)]
    public void Group_OfPositions_IsTheRowOfTheTable(
        string stack,
        int[] positions,
        double correlation,
        double lowestCorrelation,
        double firstDecibels,
        double firstSpread,
        double secondDecibels,
        double firstNanoseconds
    )
    {
        FullWaveScore[] scores = [.. Score(stack, positions)];
        Assert.Equal(correlation, Quantile(scores, s => s.Correlation, 0.5), 0.003);
        Assert.Equal(lowestCorrelation, Quantile(scores, s => s.Correlation, 0.1), 0.006);
        Assert.Equal(firstDecibels, Quantile(scores, s => s.FirstDecibels, 0.5), 0.1);
        double mean = scores.Average(s => s.FirstDecibels);
        Assert.Equal(firstSpread, Math.Sqrt(scores.Average(s => Math.Pow(s.FirstDecibels - mean, 2))), 0.1);
        if (!double.IsNaN(secondDecibels))
            Assert.Equal(secondDecibels, Quantile(scores, s => s.SecondDecibels, 0.5), 0.1);
        // One sample.
        Assert.Equal(firstNanoseconds, 1e9 * Quantile(scores, s => s.FirstSeconds, 0.5), 10.1);
    }

    private static double Quantile(FullWaveScore[] scores, Func<FullWaveScore, double> value, double part)
    {
        double[] sorted = [.. scores.Select(value).Where(v => !double.IsNaN(v)).Order()];
        double place = part * (sorted.Length - 1);
        int below = (int)place;
        double above = sorted[Math.Min(below + 1, sorted.Length - 1)];
        return sorted[below] + (place - below) * (above - sorted[below]);
    }

    private IEnumerable<FullWaveScore> Score(string name, int[] positions)
    {
        FullWaveStack stack = FullWaveStack.Open(name);
        foreach (int position in positions)
            for (int beam = 0; beam < stack.Beams; beam++)
            {
                _cell.Reset();
                _cell.CouplantMetres = stack.Truth("couplant_path", position, beam);
                _cell.ThicknessMetres = stack.Truth("thickness", position, beam);
                double aperture = 8e-3;
                // The last four beams of C1 have a face that sends a fifth back, by the description.
                double paint = 0;
                switch (name)
                {
                    case "C1E":
                        SetEdge(stack, position, beam);
                        break;
                    case "C5":
                        // Both radii are the description's: 57 mm for the first five positions, 109 mm for the others.
                        aperture = beam < 2 ? 4e-3 : 8e-3;
                        _cell.RadiusAroundMetres = position < 5 ? 57e-3 : 109e-3;
                        break;
                    case "C6":
                        aperture = 6e-3;
                        paint = stack.Truth("coating_thickness", position, beam);
                        _cell.Paint = new CoatHit(paint, 2500, 1200, 0);
                        break;
                    case "C7B":
                        SetLamination(stack, position, beam, aperture);
                        break;
                }
                float[] record = new float[stack.Samples];
                (WaveModel model, WaveWorkspace workspace) = ModelOf(
                    position % 2,
                    aperture,
                    name == "C1" && beam >= 8 ? 0.2 : 0
                );
                model.AddEchoes(_cell, stack.StartSeconds, stack.RateHz, record, workspace, out _);
                yield return FullWaveScore.Of(stack, position, beam, paint, record);
            }
    }

    /// <summary>A step of the back wall at 0; beams lie from -5 to +5 mm.</summary>
    private void SetEdge(FullWaveStack stack, int position, int beam)
    {
        const int count = 192;
        const double spacing = 0.1e-3;
        Span<float> patch = _cell.SetPatch(1, count, spacing, spacing);
        double left = stack.Truth("thickness", position, 0);
        double right = stack.Truth("thickness", position, stack.Beams - 1);
        for (int i = 0; i < count; i++)
            patch[i] = (float)((i - (count - 1) / 2.0) * spacing + 1e-3 * (beam - 5) < 0 ? left : right);
    }

    /// <summary>A lamination centred on 0, of the description's width; beams at 0, 2 and 4 mm.</summary>
    private void SetLamination(FullWaveStack stack, int position, int beam, double apertureMetres)
    {
        double half = new[] { 4e-3, 2e-3, 14e-3, 8e-3, 4e-3 }[position] / 2;
        double x = 2e-3 * beam;
        double covered = Math.Min(half, x + apertureMetres / 2) - Math.Max(-half, x - apertureMetres / 2);
        if (covered <= 0)
            return;
        _cell.Lamination = new LaminarHit(stack.Truth("reflector_depth", position, 0), 1);
        _cell.LaminationCover = covered / apertureMetres;
    }

    /// <summary>Even positions of every stack have the minimum-phase pulse, odd ones the other.</summary>
    private (WaveModel Model, WaveWorkspace Workspace) ModelOf(int pulse, double apertureMetres, double face)
    {
        if (!_models.TryGetValue((pulse, apertureMetres, face), out (WaveModel Model, WaveWorkspace Workspace) known))
        {
            var model = new WaveModel(
                new WaveSettings
                {
                    Pulse = Pulses.Value[pulse],
                    ApertureMetres = apertureMetres,
                    ElevationMetres = double.PositiveInfinity,
                    FaceReflection = face,
                    NominalCouplantMetres = 4e-3,
                    NominalWallMetres = 8e-3,
                    InterfaceAmplitudeFraction = 1,
                }
            );
            _models[(pulse, apertureMetres, face)] = known = (model, model.CreateWorkspace());
        }
        return known;
    }
}
