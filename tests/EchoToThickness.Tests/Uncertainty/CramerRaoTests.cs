using System.Globalization;
using EchoToThickness.Uncertainty;
using Xunit;

namespace EchoToThickness.Tests.Uncertainty;

/// <summary>Rows TD-* of testdata/checks/02_time_delay.csv: 5 MHz, 60 %, 100 MHz sampling, peak 1, steel 5920 m/s.</summary>
public sealed class CramerRaoTests
{
    private const double Rate = 100e6;
    private static readonly GaussianPulse Pulse = new(5e6, 0.6);

    [Fact]
    public void GaussianPulse_ClosedForms_AreTheRows()
    {
        Near("TD-st", 1e9 * Pulse.DeviationSeconds);
        Near("TD-sf", 1e-6 * Pulse.SpectrumDeviationHz);
        Near("TD-E", 1e9 * Pulse.EnergySeconds);
        Near("TD-Brms", 1e-6 * Pulse.RmsBandwidthHz);
        Near("TD-Benv", 1e-6 * Pulse.EnvelopeRmsBandwidthHz);
    }

    [Theory]
    [InlineData("0.1", 0.1)]
    [InlineData("0.0316", 0.031622776601683791)]
    [InlineData("0.01", 0.01)]
    [InlineData("0.001", 0.001)]
    public void DelaySeconds_EveryNoise_IsTheRow(string row, double noise)
    {
        double bound = CramerRao.DelaySeconds(Pulse, 1, noise, Rate);
        Near("TD-crlb-" + row, 1e9 * bound);
        Near("TD-crlb-thk-" + row, 1e6 * CramerRao.ThicknessMetres(bound, 5920));
    }

    [Fact]
    public void DelaySeconds_FromEnergy_IsTheContinuousForm()
    {
        double energyToNoise = Pulse.EnergySeconds * Rate / (0.01 * 0.01);
        // TD-crlb-cont allows 1e-6 between the discrete and the continuous form.
        Assert.Equal(
            CheckRows.Expected("TD-crlb-cont"),
            1e9 * CramerRao.DelaySeconds(Pulse.RmsBandwidthHz, energyToNoise),
            1e-7
        );
    }

    [Fact]
    public void DelaySeconds_TwiceTheRateOrSixteenTraces_FallsAsTabulated()
    {
        double bound = CramerRao.DelaySeconds(Pulse, 1, 0.01, Rate);
        Assert.Equal(CheckRows.Expected("TD-crlb-fs"), CramerRao.DelaySeconds(Pulse, 1, 0.01, 2 * Rate) / bound, 1e-6);
        Assert.Equal(
            CheckRows.Expected("TD-crlb-avg"),
            CramerRao.DelaySeconds(Pulse, 1, 0.01 / 4, Rate) / bound,
            1e-12
        );
    }

    [Fact]
    public void SeparationSeconds_EverySeparation_IsTheRow()
    {
        string[] ids = CheckRows
            .Ids("TD-sep-")
            .Where(id => id.EndsWith("-ka", StringComparison.Ordinal) || id.EndsWith("-ua", StringComparison.Ordinal))
            .ToArray();
        Assert.Equal(16, ids.Length);
        foreach (string id in ids)
        {
            double separation = double.Parse(id.Split('-')[2], CultureInfo.InvariantCulture) * 1e-6;
            bool known = id.EndsWith("-ka", StringComparison.Ordinal);
            Near(id, 1e9 * CramerRao.SeparationSeconds(Pulse, 1, 0.5, separation, 0.01, Rate, known));
        }
        double far = CramerRao.SeparationSeconds(Pulse, 1, 0.5, 2e-6, 0.01, Rate, true);
        Assert.Equal(CheckRows.Expected("TD-sep-far"), 1e9 * far, 1e-6);
        Assert.Equal(CheckRows.Expected("TD-sep-thk"), 1e6 * CramerRao.ThicknessMetres(far, 5920), 1e-6);
    }

    [Fact]
    public void FirstDelaySeconds_OtherAmplitude_DoesNotMatter()
    {
        // TD-zs: Zeira and Schultheiss 1990.
        double half = CramerRao.FirstDelaySeconds(Pulse, 1, 0.5, 0.15e-6, 0.01, Rate);
        double weak = CramerRao.FirstDelaySeconds(Pulse, 1, 0.05, 0.15e-6, 0.01, Rate);
        Assert.Equal(CheckRows.Expected("TD-zs"), half / weak, 1e-9);
    }

    [Fact]
    public void NearestSampleSeconds_HundredMegahertz_IsTheRow() =>
        Near("TD-quant", 1e9 * SamplingError.NearestSampleSeconds(Rate));

    [Theory]
    [InlineData(4, 0.25, -0.0428932188135, 0.0452729844025)]
    [InlineData(5, 0.25, -0.02639320225, 0.0275259931479)]
    [InlineData(10, 0.4, -0.00489258831561, 0.00645922267282)]
    [InlineData(20, 0.1, -0.000791182584105, 0.00159069387125)]
    public void ParabolaBiasSamples_TabulatedOffsets_AreTheRows(double n, double offset, double bias, double largest)
    {
        // Rows TD-par-N-offset (abs 1e-9) and TD-par-max-N (rel 1e-5), mpmath 1.2.1.
        Assert.Equal(bias, SamplingError.ParabolaBiasSamples(n, offset), 1e-9);
        Assert.Equal(largest, SamplingError.LargestParabolaBiasSamples(n), 1e-5 * largest);
    }

    [Theory]
    [InlineData(1, 0.25, -0.0453920515321)]
    [InlineData(1, 0.4, -0.0381986060164)]
    [InlineData(2, 0.25, -0.0116492824409)]
    [InlineData(5, 0.25, -0.00187340243887)]
    [InlineData(5, 0.4, -0.00144438268018)]
    public void EnvelopeParabolaBiasSamples_TabulatedOffsets_AreTheRows(double deviation, double offset, double bias)
    {
        // Rows TD-gau-deviation-offset, abs 1e-9, mpmath 1.2.1.
        Assert.Equal(bias, SamplingError.EnvelopeParabolaBiasSamples(deviation, offset), 1e-9);
        double seconds = SamplingError.EnvelopeParabolaSeconds(deviation / Rate, Rate);
        Assert.InRange(seconds * Rate / Math.Abs(bias), 0.6, 1);
    }

    [Theory]
    [InlineData(0, 0.6)]
    [InlineData(5e6, 0)]
    [InlineData(5e6, 2)]
    [InlineData(double.NaN, 0.6)]
    public void GaussianPulse_Impossible_Throws(double frequency, double bandwidth) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new GaussianPulse(frequency, bandwidth));

    private static void Near(string id, double value) =>
        Assert.InRange(value - CheckRows.Expected(id), -CheckRows.Tolerance(id), CheckRows.Tolerance(id));
}
