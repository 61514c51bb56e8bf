using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Velocity;
using Xunit;

namespace EchoToThickness.Tests.Velocity;

/// <summary>Rows AC-* of testdata/checks/01_acoustics.csv.</summary>
public sealed class MaterialAndWaterTests
{
    [Theory]
    [InlineData("steel", "AC-KK-steel")]
    [InlineData("mild-steel", "AC-KL-mild")]
    [InlineData("steel-1020", "AC-HB-1020")]
    [InlineData("steel-4340", "AC-HB-4340")]
    [InlineData("stainless-302", "AC-HB-302")]
    [InlineData("stainless-347", "AC-HB-347")]
    [InlineData("iron", "AC-CRC-FeArmco")]
    [InlineData("cast-iron", "AC-CRC-FeCast")]
    [InlineData("aluminium", "AC-CRC-Al")]
    [InlineData("copper", "AC-CRC-CuRol")]
    [InlineData("brass-70-30", "AC-CRC-brass")]
    [InlineData("acrylic", "AC-PL-acrylic")]
    [InlineData("polystyrene", "AC-HB-PS")]
    [InlineData("cross-linked-polystyrene", "AC-XPS")]
    [InlineData("epoxy", "AC-SR-epoxy")]
    [InlineData("magnetite", "AC-magnetite")]
    [InlineData("hematite", "AC-hematite")]
    public void Find_Material_IsItsRowWithProvenance(string name, string row)
    {
        Material material = MaterialTable.Find(name);
        Same(row + "-vl", material.Longitudinal);
        if (CheckRows.Ids(row + "-vs").Any())
            Same(row + "-vs", material.Shear);
        if (CheckRows.Ids(row + "-rho").Any())
            Same(row + "-rho", material.Density);
    }

    [Fact]
    public void All_EveryMaterial_IsNamedOnce()
    {
        Assert.Equal(17, MaterialTable.All.Count);
        Assert.Equal(17, MaterialTable.All.Select(m => m.Name).Distinct().Count());
        Assert.All(MaterialTable.All, m => Assert.InRange(m.Longitudinal.Value, 2000, 8000));
    }

    [Fact]
    public void Find_UnknownMaterial_SuggestsAndLists()
    {
        ProcedureException error = Assert.Throws<ProcedureException>(() => MaterialTable.Find("mild-stel"));
        Assert.Contains("did you mean 'mild-steel'?", error.Remedy, StringComparison.Ordinal);
        Assert.Contains("aluminium", error.Remedy, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("BW148", WaterEquation.BilaniukWong148)]
    [InlineData("BW112", WaterEquation.BilaniukWong112)]
    [InlineData("BW36", WaterEquation.BilaniukWong36)]
    [InlineData("MAR97", WaterEquation.Marczak)]
    [InlineData("DM72", WaterEquation.DelGrossoMader)]
    public void MetresPerSecond_EveryTabulatedTemperature_IsTheRow(string rows, WaterEquation equation)
    {
        string[] ids = CheckRows.Ids($"AC-H2O-{rows}-T").ToArray();
        Assert.True(ids.Length >= 5, "the rows are missing");
        foreach (string id in ids)
        {
            double t = double.Parse(id[(id.LastIndexOf('T') + 1)..], CultureInfo.InvariantCulture);
            // The rows allow 0.0005 m/s; the polynomial is the same, so only their ten printed digits limit.
            Assert.Equal(CheckRows.Expected(id), WaterSoundSpeed.MetresPerSecond(t, equation), 1e-5);
        }
    }

    [Fact]
    public void MetresPerSecond_AcrossEquations_AgreesAsPublished()
    {
        // AC-H2O-agree: 0.04 m/s between the 148-point equation, Marczak, and Del Grosso and Mader.
        WaterEquation[] compared = [WaterEquation.BilaniukWong148, WaterEquation.Marczak, WaterEquation.DelGrossoMader];
        for (int t = 0; t <= 95; t += 5)
        {
            double[] speeds = compared.Select(e => WaterSoundSpeed.MetresPerSecond(t, e)).ToArray();
            Assert.InRange(
                speeds.Max() - speeds.Min(),
                0,
                CheckRows.Expected("AC-H2O-agree") + CheckRows.Tolerance("AC-H2O-agree")
            );
        }
        // AC-H2O-IAPWS at 300 K, the formulation independent of the polynomials.
        Assert.Equal(CheckRows.Expected("AC-H2O-IAPWS"), WaterSoundSpeed.MetresPerSecond(26.85), 0.1);
        // AC-H2O-trap: the misprinted coefficient would give 1556.235.
        Assert.NotEqual(
            CheckRows.Expected("AC-H2O-trap"),
            WaterSoundSpeed.MetresPerSecond(74, WaterEquation.Marczak),
            0.5
        );
    }

    [Fact]
    public void SlopeMetresPerSecondKelvin_RowsAndMaximum_Agree()
    {
        foreach (string id in CheckRows.Ids("AC-H2O-dcdT-"))
        {
            double t = double.Parse(id.Split('-')[^1], CultureInfo.InvariantCulture);
            Assert.Equal(CheckRows.Expected(id), WaterSoundSpeed.SlopeMetresPerSecondKelvin(t), 1e-4);
        }
        double top = CheckRows.Expected("AC-H2O-max-T");
        Assert.Equal(0, WaterSoundSpeed.SlopeMetresPerSecondKelvin(top), 1e-3);
        Assert.Equal(CheckRows.Expected("AC-H2O-max-c"), WaterSoundSpeed.MetresPerSecond(top), 0.001);
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(101)]
    [InlineData(double.NaN)]
    public void MetresPerSecond_OutsideTheFit_Throws(double celsius) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => WaterSoundSpeed.MetresPerSecond(celsius));

    [Theory]
    [InlineData("ws", 1.479700, 46.472)]
    [InlineData("sw", 46.472, 1.479700)]
    [InlineData("sa", 46.472, 0.0004132)]
    [InlineData("wp", 1.479700, 2.76)]
    [InlineData("ps", 2.76, 46.472)]
    [InlineData("xs", 2.45385, 46.472)]
    [InlineData("wal", 1.479700, 17.2098)]
    public void PlaneInterface_TabulatedPairs_AreTheRows(string pair, double first, double second)
    {
        // The rows used the unrounded impedances; their text gives them to five digits, which limits R to about 1e-5.
        Assert.Equal(CheckRows.Expected("AC-R-" + pair), PlaneInterface.Reflection(first, second), 2e-6);
        Assert.Equal(CheckRows.Expected("AC-T-" + pair), PlaneInterface.Transmission(first, second), 2e-6);
        Assert.Equal(CheckRows.Expected("AC-Ipp-" + pair), PlaneInterface.TwoWayTransmission(first, second), 4e-6);
        Assert.Equal(
            1 - Math.Pow(PlaneInterface.Reflection(first, second), 2),
            PlaneInterface.TwoWayTransmission(first, second),
            1e-12
        );
    }

    [Fact]
    public void Reflection_EqualMedia_IsZeroAndBackWallTurnsOver()
    {
        Assert.Equal(CheckRows.Expected("AC-R-same"), PlaneInterface.Reflection(3, 3));
        Assert.True(PlaneInterface.Reflection(1.48, 45) > 0 && PlaneInterface.Reflection(45, 1.48) < 0);
        Assert.Equal(CheckRows.Expected("AC-R-ws-pub"), PlaneInterface.Reflection(1.48, 45), 0.005);
    }

    private static void Same(string id, TabulatedValue? value)
    {
        Assert.NotNull(value);
        Assert.Equal(CheckRows.Expected(id), value.Value);
        Assert.Equal(CheckRows.FromMemory(id), value.FromMemory);
        Assert.True(value.RelativeTolerance * value.Value >= CheckRows.Tolerance(id) - 1e-9, id);
        Assert.NotEmpty(value.Source);
    }
}
