using EchoToThickness.Geometry;
using Xunit;

namespace EchoToThickness.Tests.Geometry;

public sealed class PipeSectionTests
{
    [Fact]
    public void SagittaMetres_EightMillimetresOnA114MillimetrePipe_IsThatOfTheCircle()
    {
        var pipe = new PipeSection(114e-3, 8.6e-3);
        // r - sqrt(r² - h²) with r = 57, h = 4: 0.14052 mm.
        Assert.Equal(57 - Math.Sqrt(57 * 57 - 16.0), 1e3 * pipe.SagittaMetres(8e-3), 1e-12);
        Assert.Equal(57e-3, pipe.SagittaMetres(114e-3), 1e-15);
        Assert.Equal(0, pipe.SagittaMetres(0));
    }

    [Fact]
    public void MeanPathExcess_AgainstTheAverageOfTheExactPath_IsFirstOrderExact()
    {
        var pipe = new PipeSection(114.3e-3, 8.6e-3);
        double aperture = 8e-3;
        double sum = 0;
        const int n = 20_000;
        for (int i = 0; i < n; i++)
        {
            double y = ((i + 0.5) / n - 0.5) * aperture;
            sum +=
                Math.Sqrt(Math.Pow(pipe.OutsideRadiusMetres, 2) - y * y)
                - Math.Sqrt(Math.Pow(pipe.InsideRadiusMetres, 2) - y * y);
        }
        double exact = sum / n / pipe.WallMetres - 1;
        // The next term is of order (a/2r)²: half a percent of the excess.
        Assert.Equal(exact, pipe.MeanPathExcess(aperture), 0.005 * exact);
    }

    [Theory]
    [InlineData(0, 1e-3)]
    [InlineData(double.NaN, 1e-3)]
    [InlineData(0.1, 0)]
    [InlineData(0.1, 0.05)]
    public void Constructor_ImpossibleSection_Throws(double diameter, double wall) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new PipeSection(diameter, wall));

    [Theory]
    [InlineData("AC-snell-1", 2730, 5920)]
    [InlineData("AC-snell-2", 2730, 3255)]
    [InlineData("AC-snell-wc", 1482.358, 5920)]
    public void CriticalAngleRadians_TabulatedPairs_AreTheRows(string row, double first, double second) =>
        Assert.Equal(
            CheckRows.Expected(row),
            Refraction.CriticalAngleRadians(first, second)!.Value * 180 / Math.PI,
            CheckRows.Tolerance(row)
        );

    [Fact]
    public void AngleRadians_WaterToSteel_IsTheRowAndNullBeyondCritical()
    {
        double? angle = Refraction.AngleRadians(5 * Math.PI / 180, 1482.358, 5920);
        Assert.Equal(CheckRows.Expected("AC-snell-w"), angle!.Value * 180 / Math.PI, 1e-6);
        Assert.Null(Refraction.AngleRadians(15 * Math.PI / 180, 1482.358, 5920));
        Assert.Null(Refraction.CriticalAngleRadians(5920, 1482.358));
    }
}
