using EchoToThickness.Estimation;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Tests.Engine;
using Xunit;

namespace EchoToThickness.Tests.Measurement;

public sealed class EstimatorMeasurerTests
{
    public static TheoryData<EstimationMethod, EstimationSearch> All
    {
        get
        {
            var data = new TheoryData<EstimationMethod, EstimationSearch>();
            foreach (EstimationMethod method in EstimatorFamily.Methods)
            {
                data.Add(method, EstimationSearch.Train);
                data.Add(method, EstimationSearch.Wall);
            }
            return data;
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void MeasureCell_SoundWall_IsMeasuredAndExplained(EstimationMethod method, EstimationSearch search)
    {
        MemoryAScanSource source = SyntheticStack.Build(1, 1, (_, _) => 7.3e-3);
        var trace = new MeasurementTrace();
        CellResult cell = MeasurementEngine.Explain(source, Plan(source, method, search), 0, 0, trace);
        Assert.Equal(CellStatus.Measured, cell.Status);
        // A sixteen-bit record without noise: deconvolution's model error, 10 um, is the largest.
        Assert.Equal(7.3e-3, cell.ThicknessMetres, method == EstimationMethod.Deconvolution ? 10e-6 : 3e-6);
        Assert.True(cell.UncertaintyNoiseMetres > 0);
        Assert.True(cell.UncertaintyMetres >= cell.UncertaintyNoiseMetres);
        Assert.Contains(
            trace.Steps,
            step => step.Stage == "estimation" && step.Text.Contains("Cramer-Rao bound", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void MeasureCell_SaturatedInterface_IsRefusedNotGuessed()
    {
        MemoryAScanSource source = SyntheticStack.Build(1, 1, (_, _) => 7.3e-3);
        short[] clipped = Samples(source).Select(v => (short)Math.Clamp(v * 3, -32768, 32767)).ToArray();
        MemoryAScanSource saturated = MemoryAScanSource.From<short>(source.Info, clipped);
        CellResult cell = MeasurementEngine.Explain(
            saturated,
            Plan(saturated, EstimationMethod.Peak, EstimationSearch.Wall),
            0,
            0,
            new MeasurementTrace()
        );
        Assert.Equal(CellStatus.Saturated, cell.Status);
        Assert.True(double.IsNaN(cell.ThicknessMetres));
    }

    /// <summary>Walls only, all of one polarity: the train times them among themselves, an estimator has nothing to refer to.</summary>
    [Theory]
    [MemberData(nameof(All))]
    public void MeasureCell_InterfaceNotRecorded_GivesNoNumber(EstimationMethod method, EstimationSearch search)
    {
        MemoryAScanSource shape = SyntheticStack.Build(1, 1, (_, _) => 7.3e-3);
        var aScan = new float[1000];
        for (int n = 0; n < 5; n++)
            SyntheticStack.AddPulse(aScan, 60 + n * 170, -0.3 * Math.Pow(0.9, n));
        MemoryAScanSource source = MemoryAScanSource.From<short>(
            shape.Info,
            aScan.Select(v => (short)Math.Round(v * 32767)).ToArray()
        );
        CellResult cell = MeasurementEngine.Explain(source, Plan(source, method, search), 0, 0, new MeasurementTrace());
        Assert.Equal(CellStatus.NoInterfaceEcho, cell.Status);
        Assert.True(double.IsNaN(cell.ThicknessMetres));
    }

    [Theory]
    [InlineData(EstimationMethod.JointFit, 4)]
    [InlineData(EstimationMethod.Parametric, 4)]
    [InlineData(EstimationMethod.Peak, 1)]
    [InlineData(EstimationMethod.Resonance, 0)]
    public void Measure_ZeroOffset_IsTakenOffOnceForEachEcho(EstimationMethod method, int echoes)
    {
        MemoryAScanSource source = SyntheticStack.Build(1, 1, (_, _) => 5.1e-3);
        double plain = Thickness(source, Plan(source, method, EstimationSearch.Wall));
        const double zero = 20e-9;
        double moved = Thickness(
            source,
            MeasurementPlan.Compile(
                new Procedure
                {
                    Estimation = new EstimationSettings { Method = method, Search = EstimationSearch.Wall },
                    Correction = new CorrectionSettings { ZeroSeconds = zero },
                },
                source.Info
            )
        );
        // From wall to wall the zero cancels; an echo of order n shows it once, so a train shares it: sum n a^2 / sum n^2 a^2 of the decay 0.7.
        double expected = echoes == 0 ? 0 : Share(0.7, echoes) * zero * SyntheticStack.Velocity / 2;
        Assert.Equal(expected, plain - moved, 0.01 * expected + 1e-9);
    }

    [Theory]
    [InlineData(
        "[estimation]\nmethod = \"peak\"\nflank_fraction = \"30 %\"",
        "estimation.flank_fraction",
        "times no flank"
    )]
    [InlineData("[estimation]\ninterpolation = \"phase\"", "estimation.interpolation", "one way of placing")]
    [InlineData("[estimation]\nmethod = \"sparse\"\nfit_phase = true", "estimation.fit_phase", "fits no phase")]
    [InlineData("[estimation]\nfit_attenuation = true", "estimation.fit_attenuation", "fits no attenuation")]
    [InlineData(
        "[estimation]\nmethod = \"peak\"\nreference = \"pulse\"",
        "estimation.reference",
        "uses no reference echo"
    )]
    [InlineData(
        "[estimation]\nmethod = \"joint-fit\"\nreference = \"calibration\"",
        "estimation.calibration_echo",
        "none is given"
    )]
    [InlineData(
        "[estimation]\nmethod = \"joint-fit\"\ncalibration_echo = [1.0, 2.0, 1.0, 0.0, 0.0]",
        "estimation.calibration_echo",
        "is not the reference"
    )]
    [InlineData("[estimation]\nsearch = \"wall\"", "estimation.search", "searches the whole record")]
    [InlineData("[estimation]\nweakest_ratio = 6.0", "estimation.weakest_ratio", "a limit of its own")]
    public void Consistency_SettingPassedOver_IsRefused(string toml, string key, string text)
    {
        Procedure procedure = TomlBinder.Read<Procedure>(toml, "p.toml").Value;
        ProcedureFinding finding = Assert.Single(ProcedureCheck.Consistency(procedure));
        Assert.Equal(key, finding.Key);
        Assert.Contains(text, finding.What, StringComparison.Ordinal);
    }

    [Fact]
    public void Consistency_EstimatorWithGates_IsRefused()
    {
        var procedure = new Procedure
        {
            Pairing = new PairingSettings { Rule = PairingRule.Difference, To = "a" },
            Gates =
            [
                new GateSettings
                {
                    Name = "a",
                    Start = GateExtent.FromSeconds(1e-6),
                    Width = GateExtent.FromSeconds(1e-6),
                },
            ],
            Estimation = new EstimationSettings { Method = EstimationMethod.Peak },
        };
        Assert.Contains(ProcedureCheck.Consistency(procedure), finding => finding.Key == "estimation.method");
    }

    private static double Share(double decay, int echoes)
    {
        double first = 0;
        double second = 0;
        for (int n = 1; n <= echoes; n++)
        {
            first += n * Math.Pow(decay, 2 * (n - 1));
            second += n * n * Math.Pow(decay, 2 * (n - 1));
        }
        return first / second;
    }

    private static MeasurementPlan Plan(MemoryAScanSource source, EstimationMethod method, EstimationSearch search) =>
        MeasurementPlan.Compile(
            new Procedure
            {
                Estimation = new EstimationSettings { Method = method, Search = search },
            },
            source.Info
        );

    private static double Thickness(MemoryAScanSource source, MeasurementPlan plan) =>
        MeasurementEngine.Explain(source, plan, 0, 0, new MeasurementTrace()).ThicknessMetres;

    private static short[] Samples(MemoryAScanSource source)
    {
        var trace = new MeasurementTrace();
        MeasurementEngine.Explain(source, MeasurementPlan.Compile(new Procedure(), source.Info), 0, 0, trace);
        return trace.Raw.Select(v => (short)Math.Round(v * 32767)).ToArray();
    }
}
