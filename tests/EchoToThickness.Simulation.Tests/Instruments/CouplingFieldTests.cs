using EchoToThickness.Simulation.Instruments;
using EchoToThickness.Simulation.Scenes;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Instruments;

public sealed class CouplingFieldTests
{
    private static readonly ComponentShape Plate = new(
        SceneShape.Plate,
        9e-3,
        double.PositiveInfinity,
        double.PositiveInfinity,
        1,
        1
    );

    private static readonly ComponentShape Elbow = new(SceneShape.Elbow, 7.11e-3, 84.15e-3, 228.6e-3, 0.359, 0.5287);

    [Fact]
    public void Thickness_OfEveryPart_IsTheSum()
    {
        CouplingField field = Field(
            new CouplingSection
            {
                ThicknessMetres = 4e-3,
                DriftMetres = 1e-3,
                WavinessMetres = 0.2e-3,
                WavePeriodAlongMetres = 40e-3,
                WavePeriodAroundMetres = 0,
                TiltAcrossRadians = 0.01,
                LiftOffs =
                [
                    new LiftOffRegion
                    {
                        Along = SceneLength.FromMetres(10e-3),
                        Length = SceneLength.FromMetres(4e-3),
                        StepMetres = 0.5e-3,
                    },
                ],
            }
        );
        // A quarter period along: the wave stands at its amplitude. Beam 20 of 17: (20 - 8) pitches of 1 mm from the middle.
        double expected = 4e-3 + 0.25e-3 + 0.2e-3 + Math.Tan(0.01) * 12e-3 + 0.5e-3;
        Assert.Equal(expected, field.ThicknessMetres(0, 3, 20, 0.25, new SurfacePoint(10e-3, 0.3)), 1e-12);
        Assert.Equal(0.5e-3, field.LiftOffMetres(new SurfacePoint(11.9e-3, 0)), 1e-15);
        Assert.Equal(0, field.LiftOffMetres(new SurfacePoint(12.1e-3, 0)));
    }

    [Fact]
    public void Jitter_IsOneGaussianNumberAScanPosition()
    {
        CouplingField field = Field(new CouplingSection { ThicknessMetres = 5e-3, JitterMetres = 0.1e-3 });
        double sum = 0;
        double squares = 0;
        const int scans = 20_000;
        for (int scan = 0; scan < scans; scan++)
        {
            double value = field.ThicknessMetres(2, scan, 0, 0, default) - 5e-3;
            Assert.Equal(value, field.ThicknessMetres(2, scan, 16, 0, default) - 5e-3, 1e-18);
            sum += value;
            squares += value * value;
        }
        Assert.InRange(sum / scans, -4e-4 / Math.Sqrt(scans), 4e-4 / Math.Sqrt(scans));
        // A standard deviation from N numbers scatters by 1 / sqrt(2 N) of it.
        Assert.Equal(1e-4, Math.Sqrt(squares / scans), 4 * 1e-4 / Math.Sqrt(2.0 * scans));
        Assert.NotEqual(field.ThicknessMetres(0, 5, 0, 0, default), field.ThicknessMetres(1, 5, 0, 0, default));
    }

    [Fact]
    public void Thickness_BelowZero_IsZero() =>
        Assert.Equal(
            0,
            Field(new CouplingSection { ThicknessMetres = 1e-3, DriftMetres = -3e-3 })
                .ThicknessMetres(0, 0, 0, 1, default)
        );

    [Fact]
    public void LiftOff_AtTheIntrados_StandsWithinItsAngle()
    {
        CouplingField field = CouplingField.Compile(
            new Scene
            {
                Coupling = new CouplingSection { IntradosLiftOffMetres = 1e-3, IntradosHalfWidthRadians = 0.5 },
            },
            Elbow,
            8
        );
        double radius = Elbow.OutsideRadiusMetres;
        Assert.Equal(1e-3, field.LiftOffMetres(new SurfacePoint(0.1, radius * (Math.PI + 0.49))));
        Assert.Equal(1e-3, field.LiftOffMetres(new SurfacePoint(0.1, radius * (Math.PI - 0.49 - 2 * Math.PI))));
        Assert.Equal(0, field.LiftOffMetres(new SurfacePoint(0.1, radius * (Math.PI + 0.51))));
        Assert.Equal(0, field.LiftOffMetres(new SurfacePoint(0.1, 0)));
        Assert.Equal(
            0,
            Field(new CouplingSection { IntradosLiftOffMetres = 1e-3 }).LiftOffMetres(new SurfacePoint(0.1, 0.264))
        );
    }

    [Theory]
    [InlineData(0.0, 0.0)]
    [InlineData(4e-3, 0.5)]
    [InlineData(2e-3, 0.25)]
    [InlineData(8.1e-3, 1.0)]
    public void Coupled_BesideADryPatch_IsTheFreePartOfTheAperture(double along, double expected)
    {
        // Aperture 8 mm along (elevation) by 8 mm around; the patch ends at 4 mm along, so its edge cuts the aperture in steps of 1/16.
        CouplingField field = Field(
            new CouplingSection
            {
                Dry = [new DryRegion { Length = SceneLength.FromMetres(8e-3), Width = SceneLength.FromMetres(20e-3) }],
            }
        );
        Assert.Equal(expected, field.CoupledFraction(new SurfacePoint(along, 0), out PlantedFailure labels), 1e-12);
        Assert.Equal(expected < 1 ? PlantedFailure.DryCoupling : PlantedFailure.None, labels);
    }

    [Fact]
    public void Bubbles_OfKnownDensity_CoverTheFractionOfPoissonDiscs()
    {
        // Discs of a Poisson process leave exp(-density × mean area) uncovered (Stoyan, Kendall and Mecke, Stochastic Geometry, the Boolean
        // model). Diameters are even on 0.5 to 1.5 D: the mean of D² is 13/12 D².
        const double density = 20_000;
        const double diameter = 4e-3;
        CouplingField field = Field(
            new CouplingSection
            {
                Bubbles = [new BubbleRegion { DensityPerSquareMetre = density, DiameterMetres = diameter }],
            }
        );
        double expected = Math.Exp(-density * Math.PI / 4 * diameter * diameter * 13 / 12);
        double sum = 0;
        double squares = 0;
        const int side = 40;
        for (int a = 0; a < side; a++)
        for (int c = 0; c < side; c++)
        {
            double coupled = field.CoupledFraction(new SurfacePoint(a * 17e-3, c * 17e-3), out _);
            sum += coupled;
            squares += coupled * coupled;
        }
        double mean = sum / side / side;
        double spread = Math.Sqrt(squares / side / side - mean * mean);
        // Apertures 17 mm apart share no bubble: their mean scatters by spread / sqrt(1600).
        Assert.Equal(expected, mean, 4 * spread / side);
        Assert.InRange(expected, 0.7, 0.8);
    }

    [Fact]
    public void Bubbles_SeenTwice_AreTheSame()
    {
        CouplingSection section = new() { Bubbles = [new BubbleRegion { DensityPerSquareMetre = 5000 }] };
        CouplingField one = Field(section);
        CouplingField two = Field(section);
        int touched = 0;
        for (int i = 0; i < 400; i++)
        {
            SurfacePoint point = new(i * 1e-3, 0.1);
            double coupled = one.CoupledFraction(point, out PlantedFailure labels);
            Assert.Equal(coupled, two.CoupledFraction(point, out _));
            Assert.Equal(coupled < 1, labels == PlantedFailure.Bubble);
            touched += coupled < 1 ? 1 : 0;
        }
        Assert.InRange(touched, 50, 390);
    }

    private static CouplingField Field(CouplingSection coupling) =>
        CouplingField.Compile(new Scene { Coupling = coupling }, Plate, 17);
}
