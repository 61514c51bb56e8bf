using System.Numerics;
using System.Text.Json;
using EchoToThickness.Simulation.Layers;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Layers;

public sealed class LayeredMediumTests
{
    private static readonly LayerMaterial Water = new(1482.358, 998.207);
    private static readonly LayerMaterial Steel = new(5920, 7850);
    private static readonly LayerMaterial Paint = new(2300, 1200);
    private static readonly LayerMaterial Air = new(343.2, 1.204);

    [Fact]
    public void Reflection_FiveStacksOfTheOutsideTable_EqualToTwelveDigits()
    {
        // testdata/checks/01_layer_response.json: mpmath 1.2.1 with 30 digits, two independent forms that agree to 1e-57.
        using JsonDocument table = JsonDocument.Parse(
            File.ReadAllText(Checks.PathOf("testdata", "checks", "01_layer_response.json"))
        );
        int compared = 0;
        foreach (JsonElement stack in table.RootElement.GetProperty("cases").EnumerateArray())
        {
            LayeredMedium medium = Medium(stack.GetProperty("layers_c_rho_d"));
            double[] frequencies = [.. stack.GetProperty("freq_hz").EnumerateArray().Select(f => f.GetDouble())];
            JsonElement[] expected = [.. stack.GetProperty("R_re_im").EnumerateArray()];
            for (int i = 0; i < frequencies.Length; i++)
            {
                Complex actual = medium.Reflection(frequencies[i]);
                Assert.Equal(expected[i][0].GetDouble(), actual.Real, 1e-12);
                Assert.Equal(expected[i][1].GetDouble(), actual.Imaginary, 1e-12);
                compared++;
            }
        }
        Assert.Equal(100, compared);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(40.0)]
    public void Reflection_OneLayer_IsTheImpedanceFormula(double nepersPerMetre)
    {
        // Brekhovskikh 1960, section 5: Z_in = Z2 (Z3 + i Z2 tan(k d)) / (Z2 + i Z3 tan(k d)), R = (Z_in - Z1) / (Z_in + Z1).
        LayerMaterial metal = new(5920, 7850, nepersPerMetre, 7e6, 2);
        LayeredMedium medium = new(Water, [new MediumLayer(metal, 3e-3)], Paint);
        for (double frequency = 0.1e6; frequency < 20e6; frequency += 0.137e6)
        {
            double omega = 2 * Math.PI * frequency;
            Complex k = omega / 5920 - Complex.ImaginaryOne * nepersPerMetre * Math.Pow(frequency / 7e6, 2);
            Complex z1 = 1482.358 * 998.207;
            Complex z2 = 7850 * omega / k;
            Complex z3 = 2300 * 1200;
            Complex tangent = Complex.Tan(k * 3e-3);
            Complex input =
                z2 * (z3 + Complex.ImaginaryOne * z2 * tangent) / (z2 + Complex.ImaginaryOne * z3 * tangent);
            Complex expected = (input - z1) / (input + z1);
            // Rounding: a handful of operations on numbers of the order of 1, and of tan near its poles.
            Assert.True((expected - medium.Reflection(frequency)).Magnitude < 1e-11, $"{frequency}");
        }
    }

    [Fact]
    public void Energy_WithoutLosses_IsConserved()
    {
        LayeredMedium medium = new(
            Water,
            [new(Paint, 0.3e-3), new(Steel, 8e-3), new(new LayerMaterial(5900, 5200), 0.2e-3)],
            Water
        );
        double impedances = 1;
        for (double frequency = 0; frequency < 15e6; frequency += 0.0913e6)
        {
            double reflected = Math.Pow(medium.Reflection(frequency).Magnitude, 2);
            double passed = Math.Pow(medium.Transmission(frequency).Magnitude, 2) * impedances;
            Assert.Equal(1, reflected + passed, 1e-12);
        }
        Assert.True(medium.Reflection(4e6).Magnitude < 0.9999, "The stack reflects everything: nothing was tested.");
    }

    [Fact]
    public void Energy_IntoAnotherImpedance_IsConserved()
    {
        LayeredMedium medium = new(Water, [new(Steel, 5e-3)], Paint);
        double impedances = Water.Impedance(1).Real / Paint.Impedance(1).Real;
        for (double frequency = 0.05e6; frequency < 15e6; frequency += 0.0913e6)
        {
            double sum =
                Math.Pow(medium.Reflection(frequency).Magnitude, 2)
                + Math.Pow(medium.Transmission(frequency).Magnitude, 2) * impedances;
            Assert.Equal(1, sum, 1e-12);
        }
    }

    [Theory]
    [InlineData(2e-3)]
    [InlineData(8.6e-3)]
    public void Reflection_PlateInWater_VanishesEveryHalfWavelength(double wallMetres)
    {
        // Half-wave windows: R = 0 at f = n c / 2d with water on both sides, and only there; between them |R| is largest.
        LayeredMedium medium = new(Water, [new(Steel, wallMetres)], Water);
        double spacing = 5920 / (2 * wallMetres);
        for (int n = 1; n < 12; n++)
        {
            Assert.True(medium.Reflection(n * spacing).Magnitude < 1e-11);
            Assert.True(medium.Reflection((n - 0.5) * spacing).Magnitude > 0.99);
        }
    }

    [Fact]
    public void Reflection_ThickLossyLayer_IsThatOfItsFrontAlone()
    {
        // 10 m of paint with 1 Np/mm: exp(-20000). A product of transfer matrices overflows here.
        LayerMaterial lossy = new(2300, 1200, 1000, 5e6, 1);
        LayeredMedium medium = new(Water, [new(lossy, 10), new(Steel, 8e-3)], Air);
        Complex z1 = Water.Impedance(1);
        Complex z2 = lossy.Impedance(2 * Math.PI * 5e6);
        Complex expected = (z2 - z1) / (z2 + z1);
        Assert.True((expected - medium.Reflection(5e6)).Magnitude < 1e-15);
        Assert.Equal(0, medium.Transmission(5e6).Magnitude);
    }

    [Fact]
    public void Reflection_FreeSurface_IsTheLimitOfALightBacking()
    {
        LayeredMedium free = new(Water, [new(Steel, 5e-3)], null);
        LayeredMedium light = new(Water, [new(Steel, 5e-3)], new LayerMaterial(1, 1e-9));
        for (double frequency = 1e6; frequency < 10e6; frequency += 0.77e6)
        {
            Assert.True((free.Reflection(frequency) - light.Reflection(frequency)).Magnitude < 1e-12);
            Assert.Equal(1, free.Reflection(frequency).Magnitude, 1e-12);
        }
        Assert.Equal(Complex.Zero, free.Transmission(5e6));
    }

    [Theory]
    [InlineData(0.0, 7850.0, 1e-3, 0.0)]
    [InlineData(5920.0, -1.0, 1e-3, 0.0)]
    [InlineData(5920.0, 7850.0, -1e-3, 0.0)]
    [InlineData(5920.0, 7850.0, double.NaN, 0.0)]
    [InlineData(5920.0, 7850.0, 1e-3, -1.0)]
    [InlineData(double.PositiveInfinity, 7850.0, 1e-3, 0.0)]
    public void Medium_ThatCannotBe_IsRefused(double velocity, double density, double thickness, double attenuation)
    {
        MediumLayer layer = new(new LayerMaterial(velocity, density, attenuation), thickness);
        ArgumentException error = Assert.Throws<ArgumentException>(() => new LayeredMedium(Water, [layer], null));
        Assert.Equal("layers", error.ParamName);
    }

    private static LayeredMedium Medium(JsonElement layers)
    {
        var materials = new List<LayerMaterial>();
        var middle = new List<MediumLayer>();
        foreach (JsonElement layer in layers.EnumerateArray())
        {
            LayerMaterial material = new(layer[0].GetDouble(), layer[1].GetDouble());
            materials.Add(material);
            if (layer[2].ValueKind == JsonValueKind.Number)
                middle.Add(new MediumLayer(material, layer[2].GetDouble()));
        }
        return new LayeredMedium(materials[0], middle, materials[^1]);
    }
}
