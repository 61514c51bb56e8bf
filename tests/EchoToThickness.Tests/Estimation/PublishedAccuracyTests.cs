using EchoToThickness.Echoes;
using EchoToThickness.Estimation;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Tests.Engine;
using EchoToThickness.Uncertainty;
using Xunit;

namespace EchoToThickness.Tests.Estimation;

/// <summary>Accuracy figures that others published, reproduced under their conditions; the source stands at each test.</summary>
public sealed class PublishedAccuracyTests
{
    /// <summary>
    /// Demirli, "Model based estimation of ultrasonic echoes", thesis, Illinois Institute of Technology (abstract): parameter estimators of Gaussian
    /// echoes "are unbiased and their variances attain the CRLB for SNR as low as 2.5 dB"; Demirli and Saniie, SAGE paper: 3 dB. Conditions (the echo
    /// from memory): alpha 25 MHz^2, f 5 MHz, phase 1 rad, 100 MS/s, 2 us, SNR the ratio of echo to noise energy. 1,500 fits: the ratio of standard
    /// deviations has one of 1.8 %; asked for within three of them, and 2 % more for the second order at this noise.
    /// </summary>
    [Theory]
    [InlineData(3)]
    [InlineData(10)]
    public void GaborFit_OneEcho_AttainsTheBoundAtThreeDecibels(double decibels)
    {
        const int samples = 200;
        const int trials = 1500;
        const double rate = 100;
        double alpha = 25 / (rate * rate);
        double omega = 2 * Math.PI * 5 / rate;
        double[] truth = [alpha, omega, 1, 100.3, 1];
        double[][] slopes = Slopes(truth, samples);
        double energy = slopes[4].Sum(v => v * v);
        double sigma = Math.Sqrt(energy / samples / Math.Pow(10, decibels / 10));
        double[] bounds = Bounds(slopes, sigma);
        var fit = new GaborFit(samples);
        var random = new Random(11);
        double[] mean = new double[5];
        double[] squares = new double[5];
        var record = new float[samples];
        for (int trial = 0; trial < trials; trial++)
        {
            for (int i = 0; i < samples; i++)
                record[i] = (float)(slopes[4][i] + sigma * Normal(random));
            fit.Begin(1.2 * alpha, 1.03 * omega, 0.8);
            fit.Add(99, 0.8);
            fit.Run(record);
            double[] found = [fit.BandwidthFactor, fit.Angular, fit.Phase, fit.Times[0], fit.Amplitudes[0]];
            for (int p = 0; p < 5; p++)
            {
                mean[p] += (found[p] - truth[p]) / trials;
                squares[p] += Math.Pow(found[p] - truth[p], 2) / trials;
            }
        }
        // Arrival time and frequency: the parameters that a wall rests on.
        foreach (int p in (int[])[1, 3])
        {
            Assert.InRange(Math.Sqrt(squares[p]) / bounds[p], 0.945, 1.075);
            Assert.True(Math.Abs(mean[p]) < 3.5 * bounds[p] / Math.Sqrt(trials));
        }
    }

    /// <summary>
    /// Weinstein and Weiss, IEEE Trans. ASSP 32 (1984) 1064, abstract: where the phase cannot be resolved the bound on the mean square error exceeds
    /// the Cramer-Rao bound by 12 (w0 / W)^2. Flat band W = w0 / 2: 48 (49 with the envelope's own part). The maximum of the correlation's envelope
    /// against that of its real part, 2,000 records at high signal-to-noise ratio: the ratio of variances has a standard deviation of 4.5 %.
    /// </summary>
    [Fact]
    public void CorrelationEnvelope_FlatBand_LosesTwelveTimesTheSquaredRatio()
    {
        const int length = 512;
        (int low, int high) = (45, 75);
        var transform = new FourierTransform(length);
        var random = new Random(3);
        const int trials = 2000;
        double envelope = 0;
        double carrier = 0;
        double[] real = new double[length];
        double[] imaginary = new double[length];
        for (int trial = 0; trial < trials; trial++)
        {
            double delay = 100 + random.NextDouble();
            Array.Clear(real);
            Array.Clear(imaginary);
            // Matched filter of a flat-band pulse: unit bins turned by the delay, plus noise.
            for (int k = low; k < high; k++)
            {
                (double s, double c) = Math.SinCos(-2 * Math.PI * k * delay / length);
                real[k] = c + 0.05 * Normal(random);
                imaginary[k] = s + 0.05 * Normal(random);
            }
            transform.Inverse(real, imaginary);
            int top = 100;
            int crest = 100;
            for (int i = 95; i <= 106; i++)
            {
                if (Power(i) > Power(top))
                    top = i;
                if (Math.Abs(i - 100.5) < 3 && real[i] > real[crest])
                    crest = i;
            }
            double peak = top + SubSample.Parabola(Power(top - 1), Power(top), Power(top + 1));
            double phase = crest + SubSample.Cosine(real[crest - 1], real[crest], real[crest + 1]);
            envelope += Math.Pow(peak - delay, 2);
            carrier += Math.Pow(phase - delay, 2);
        }
        double centre = 0.5 * (low + high - 1);
        double width = Math.Sqrt((Math.Pow(high - low, 2) - 1) / 12);
        double expected = (centre * centre + width * width) / (width * width);
        Assert.Equal(12 * Math.Pow(centre / (high - low), 2), expected, 0.03 * expected);
        Assert.Equal(expected, envelope / carrier, 0.14 * expected);

        double Power(int i) => real[i] * real[i] + imaginary[i] * imaginary[i];
    }

    /// <summary>
    /// Cespedes et al., Ultrasonic Imaging 17 (1995) 142 (from memory): the parabola through a sampled correlation is pulled to the samples, the cosine
    /// is not. Size: row TD-par-max-5 of the outside check values (mpmath), 0.0275 sample at 5 samples a cycle. A narrow echo (20 %) is cosine-like: its
    /// envelope's curvature adds (0.2 / 2.355)^2 = 0.7 % of the carrier's.
    /// </summary>
    [Fact]
    public void CrossCorrelation_FiveSamplesACycle_ParabolaIsBiasedAndCosineIsNot()
    {
        const double expected = 0.0275259931479;
        Assert.Equal(expected, SamplingError.LargestParabolaBiasSamples(5), 1e-9);
        double parabola = LargestBias(LagInterpolation.Parabola);
        double cosine = LargestBias(LagInterpolation.Cosine);
        double phase = LargestBias(LagInterpolation.Phase);
        Assert.Equal(expected, parabola, 0.05 * expected);
        Assert.True(cosine < 0.05 * expected, $"cosine {cosine}");
        Assert.True(phase < 0.05 * expected, $"phase {phase}");
    }

    /// <summary>
    /// Kay 1993, example 3.13 with its worked number (rows TD-crlb-0.01 and TD-mc of the outside check values): 0.0941 ns for 5 MHz, 60 %, 100 MS/s,
    /// noise 0.01. Interface and wall of amplitude 1, the pulse known: sqrt(2) times that for their spacing. 1,500 records, 1.8 % each.
    /// </summary>
    [Fact]
    public void MatchedFilter_WorkedExample_HasTheStatedSpread()
    {
        var scale = new EchoScale(100e6, 5e6, 0.6);
        var record = new EchoRecord(600, scale, 0, KernelPaths.Best);
        var workspace = new EstimationWorkspace(600, scale, EchoReference.Pulse, []);
        IThicknessEstimator estimator = EstimatorFamily.Create(
            new EstimationSettings { Method = EstimationMethod.MatchedFilter }
        );
        var pulse = new GaussianPulse(5e6, 0.6);
        var random = new Random(7);
        double squares = 0;
        const int trials = 1500;
        for (int trial = 0; trial < trials; trial++)
        {
            double spacing = 300 + random.NextDouble();
            for (int i = 0; i < 600; i++)
                record.Input[i] = (float)(
                    pulse.Value((i - 150.4) / 100e6)
                    - pulse.Value((i - 150.4 - spacing) / 100e6)
                    + 0.01 * Normal(random)
                );
            record.Prepare(3.3, 0.3);
            workspace.Begin(record, 0, 200, 400);
            squares += Math.Pow(estimator.Estimate(workspace).SpacingSamples - spacing, 2);
        }
        double nanoseconds = 10 * Math.Sqrt(squares / trials);
        double expected = Math.Sqrt(2) * CheckRows.Expected("TD-crlb-0.01");
        Assert.Equal(expected, nanoseconds, 0.055 * expected);
    }

    private static double LargestBias(LagInterpolation interpolation)
    {
        var scale = new EchoScale(100e6, 20e6, 0.2);
        var record = new EchoRecord(900, scale, 0, KernelPaths.Best);
        var workspace = new EstimationWorkspace(900, scale, EchoReference.Interface, []);
        IThicknessEstimator estimator = EstimatorFamily.Create(
            new EstimationSettings { Method = EstimationMethod.CrossCorrelation, Interpolation = interpolation }
        );
        var pulse = new GaussianPulse(20e6, 0.2);
        double largest = 0;
        for (int k = 0; k <= 20; k++)
        {
            double spacing = 350 + 0.5 * k / 20;
            for (int i = 0; i < 900; i++)
                record.Input[i] = (float)(
                    0.9 * pulse.Value((i - 250) / 100e6) - 0.5 * pulse.Value((i - 250 - spacing) / 100e6)
                );
            record.Prepare(3.3, 0.3);
            workspace.Begin(record, 0, 200, 500);
            largest = Math.Max(largest, Math.Abs(estimator.Estimate(workspace).SpacingSamples - spacing));
        }
        return largest;
    }

    /// <summary>Echo (index 4: derivative by amplitude, which at amplitude 1 is the echo) and its derivatives, written out independently of the fit.</summary>
    private static double[][] Slopes(double[] truth, int samples)
    {
        double[][] slopes = [.. Enumerable.Range(0, 5).Select(_ => new double[samples])];
        (double alpha, double omega, double phase, double time) = (truth[0], truth[1], truth[2], truth[3]);
        for (int i = 0; i < samples; i++)
        {
            double u = i - time;
            double g = Math.Exp(-alpha * u * u);
            double c = g * Math.Cos(omega * u + phase);
            double s = g * Math.Sin(omega * u + phase);
            slopes[0][i] = -u * u * c;
            slopes[1][i] = -u * s;
            slopes[2][i] = -s;
            slopes[3][i] = 2 * alpha * u * c + omega * s;
            slopes[4][i] = c;
        }
        return slopes;
    }

    private static double[] Bounds(double[][] slopes, double sigma)
    {
        var fisher = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(
            5,
            5,
            (p, q) => slopes[p].Zip(slopes[q], (a, b) => a * b).Sum()
        );
        double[] scale = [.. Enumerable.Range(0, 5).Select(p => Math.Sqrt(fisher[p, p]))];
        var scaled = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(
            5,
            5,
            (p, q) => fisher[p, q] / scale[p] / scale[q]
        );
        var inverse = scaled.Inverse();
        return [.. Enumerable.Range(0, 5).Select(p => sigma * Math.Sqrt(inverse[p, p]) / scale[p])];
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
