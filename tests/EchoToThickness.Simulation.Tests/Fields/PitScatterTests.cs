using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Scenes;
using MathNet.Numerics;
using Xunit;
using static EchoToThickness.Simulation.Tests.Fields.FieldScenes;

namespace EchoToThickness.Simulation.Tests.Fields;

/// <summary>Places and depths of pits follow the laws asked; seeds are fixed.</summary>
public sealed class PitScatterTests
{
    private static readonly ComponentSection Thick = Plate with
    {
        NominalWallMetres = 50e-3,
        LengthMetres = 0.4,
        WidthMetres = 0.4,
    };

    [Fact]
    public void Depths_LogNormal_FollowTheLaw()
    {
        double[] depths = Depths(
            new PitCluster
            {
                Count = 5000,
                MedianDepthMetres = 1e-3,
                DepthSpread = 0.5,
            }
        );
        double distance = Distance(depths, d => 0.5 * SpecialFunctions.Erfc(-Math.Log(d / 1e-3) / 0.5 / Math.Sqrt(2)));
        Assert.InRange(distance, 0, Critical(5000));
    }

    [Fact]
    public void Depths_LogNormalWithALargest_FollowTheCutLaw()
    {
        double[] depths = Depths(
            new PitCluster
            {
                Count = 5000,
                MedianDepthMetres = 1e-3,
                DepthSpread = 0.8,
                MaximumDepth = DepthMm(1.5),
            }
        );
        double Law(double d) => 0.5 * SpecialFunctions.Erfc(-Math.Log(d / 1e-3) / 0.8 / Math.Sqrt(2));
        Assert.InRange(Distance(depths, d => Law(d) / Law(1.5e-3)), 0, Critical(5000));
        Assert.InRange(depths.Max(), 1.4e-3, 1.5e-3);
    }

    [Fact]
    public void ExtremeDepths_Gumbel_FollowTheLawOfTheirMaxima()
    {
        double[] depths = Depths(
            new PitCluster
            {
                Count = 20_000,
                Law = DepthLaw.Gumbel,
                LocationMetres = 2e-3,
                ScaleMetres = 0.3e-3,
                DiameterToDepth = 2,
            }
        );
        double Law(double d, double location) => Math.Exp(-Math.Exp(-(d - location) / 0.3e-3));
        Assert.InRange(Distance(depths, d => Law(d, 2e-3)), 0, Critical(20_000));
        // The largest of n Gumbel depths is Gumbel, moved by scale x ln n: 400 blocks of 50.
        double[] maxima = [.. depths.Chunk(50).Select(block => block.Max())];
        Assert.InRange(Distance(maxima, d => Law(d, 2e-3 + 0.3e-3 * Math.Log(50))), 0, Critical(400));
    }

    [Fact]
    public void Places_Poisson_HaveADispersionIndexOfOne()
    {
        // 400 quadrats of 20 mm: the index has a standard deviation of sqrt(2/399) = 0.071.
        Assert.Equal(
            1,
            Dispersion(new PitCluster { DensityPerSquareMetre = 25_000, DiameterToDepth = 2 }, out double mean),
            4 * 0.071
        );
        // 10 a quadrat, standard deviation of the mean sqrt(10/400) = 0.158.
        Assert.Equal(10, mean, 4 * 0.158);
    }

    [Fact]
    public void Places_Clustered_HaveTheDispersionOfAThomasProcess()
    {
        // Index of variance and mean 1 + m P², m = 10 a parent, P = 1 - 2σ/(q √π) the chance that two siblings share a strip of q = 20 mm
        // with σ = 1 mm: 9.9. Counts are sums over a Poisson number (0.4) of parents of Poisson (10) numbers: κ2 = 0.4·110, κ4 = 0.4·16,710,
        // relative deviation of the variance sqrt((κ4/κ2² + 2)/400) = 0.117.
        var cluster = new PitCluster
        {
            DensityPerSquareMetre = 10_000,
            Placement = PitPlacement.Clustered,
            ParentsPerSquareMetre = 1000,
            SpreadMetres = 1e-3,
            DiameterToDepth = 2,
        };
        double expected = 1 + 10 * Math.Pow(1 - 2 / (20 * Math.Sqrt(Math.PI)), 2);
        Assert.Equal(expected, Dispersion(cluster, out double mean), 4 * 0.117 * expected);
        // Mean 4, variance about 44 over 400 quadrats.
        Assert.Equal(4, mean, 4 * Math.Sqrt(44.0 / 400));
    }

    [Fact]
    public void Places_OnAnElbow_FollowTheTrueArea()
    {
        WallField field = Wall(
            Elbow6,
            new WallSection { Clusters = [new PitCluster { Count = 20_000, MedianDepthMetres = 0.2e-3 }] }
        );
        double girth = field.Shape.WidthMetres;
        double share =
            Enumerable
                .Range(0, 20_000)
                .Count(i => field.CutAt(i).Centre.AroundMetres is var w && (w < girth / 4 || w >= 3 * girth / 4))
            / 20_000.0;
        // 1/2 + r/(π R) = 0.617173127 (outside row PG-frac-ext-6LR); binomial deviation 0.0034.
        Assert.Equal(0.617173127394, share, 4 * 0.0034);
    }

    [Fact]
    public void Places_InARegion_StayInIt()
    {
        var cluster = new PitCluster
        {
            Count = 300,
            Along = Degrees(45),
            Around = Degrees(0),
            Length = Mm(50),
            Width = Mm(40),
            Placement = PitPlacement.Clustered,
        };
        WallField field = Wall(Elbow6, new WallSection { Clusters = [cluster] });
        Assert.Equal(300, field.CutCount);
        double stretch = field.Shape.Stretch(0);
        double centre = Math.PI / 4 * 0.2286;
        bool left = false;
        bool right = false;
        for (int i = 0; i < 300; i++)
        {
            SurfacePoint point = field.CutAt(i).Centre;
            Assert.InRange(point.AlongMetres, centre - 0.025 / stretch, centre + 0.025 / stretch);
            double v = field.Shape.WrapDifference(point.AroundMetres);
            Assert.InRange(v, -0.02, 0.02);
            left |= v < 0;
            right |= v > 0;
        }
        Assert.True(left && right);
    }

    private static double[] Depths(PitCluster cluster)
    {
        WallField field = Wall(Thick, new WallSection { Clusters = [cluster] }, seed: 4);
        return [.. Enumerable.Range(0, field.CutCount).Select(i => field.CutAt(i).DepthMetres)];
    }

    private static double Dispersion(PitCluster cluster, out double mean)
    {
        WallField field = Wall(Thick, new WallSection { Clusters = [cluster] }, seed: 8);
        double[] counts = new double[400];
        for (int i = 0; i < field.CutCount; i++)
        {
            SurfacePoint point = field.CutAt(i).Centre;
            counts[(int)(point.AlongMetres / 0.02) * 20 + (int)(point.AroundMetres / 0.02)]++;
        }
        double average = mean = counts.Average();
        return counts.Sum(c => (c - average) * (c - average)) / 399 / average;
    }
}
