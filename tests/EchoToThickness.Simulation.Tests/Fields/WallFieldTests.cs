using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Scenes;
using Xunit;
using static EchoToThickness.Simulation.Tests.Fields.FieldScenes;

namespace EchoToThickness.Simulation.Tests.Fields;

/// <summary>Single features against algebra.</summary>
public sealed class WallFieldTests
{
    private static readonly SurfacePoint Middle = new(0.1, 0.1);

    /// <summary>Volumes: cap πd(3a² + d²)/6, half ellipsoid 2πabd/3, cylinder πabd, cone πabd/3.</summary>
    [Theory]
    [InlineData(PitShape.Spherical, 6, 6, 2)]
    [InlineData(PitShape.Spherical, 6, 6, 3)]
    [InlineData(PitShape.Ellipsoidal, 8, 4, 3)]
    [InlineData(PitShape.Cylindrical, 8, 4, 3)]
    [InlineData(PitShape.Conical, 8, 4, 3)]
    public void Sample_OnePit_HasItsVolumeAndDepth(PitShape shape, double length, double width, double depth)
    {
        WallField field = Wall(
            Plate,
            new WallSection
            {
                Pits =
                [
                    new PitFeature
                    {
                        Along = Mm(100),
                        Around = Mm(100),
                        Shape = shape,
                        Diameter = Mm(length),
                        Width = Mm(width),
                        Depth = DepthMm(depth),
                        AngleRadians = 0.5,
                    },
                ],
            }
        );
        const int side = 501;
        const double step = 20e-6;
        double volume = Sample(field, Middle, step, side).Sum(t => 10e-3 - (double)t) * step * step;
        (double a, double b, double d) = (length / 2000, width / 2000, depth / 1000);
        double expected = shape switch
        {
            PitShape.Spherical => Math.PI * d * (3 * a * a + d * d) / 6,
            PitShape.Ellipsoidal => 2 * Math.PI * a * b * d / 3,
            PitShape.Cylindrical => Math.PI * a * b * d,
            _ => Math.PI * a * b * d / 3,
        };
        // Cells of 20 µm cut by an upright side: the error of counting them is far below one row of the rim, step/b = 1 %; 0.2 % is asked.
        Assert.Equal(expected, volume, 2e-3 * expected);
        Assert.Equal(10e-3 - d, field.ThicknessAt(Middle), 12);
    }

    [Fact]
    public void ThicknessAt_TurnedEllipse_FollowsItsAxes()
    {
        var pit = new PitFeature
        {
            Along = Mm(100),
            Around = Mm(100),
            Shape = PitShape.Cylindrical,
            Diameter = Mm(10),
            Width = Mm(2),
            Depth = DepthMm(4),
            AngleRadians = Math.PI / 6,
        };
        WallField field = Wall(Plate, new WallSection { Pits = [pit] });
        (double c, double s) = (Math.Cos(Math.PI / 6), Math.Sin(Math.PI / 6));
        Assert.Equal(6e-3, field.ThicknessAt(new SurfacePoint(0.1 + 4.9e-3 * c, 0.1 + 4.9e-3 * s)), 12);
        Assert.Equal(10e-3, field.ThicknessAt(new SurfacePoint(0.1 + 5.1e-3 * c, 0.1 + 5.1e-3 * s)), 12);
        Assert.Equal(6e-3, field.ThicknessAt(new SurfacePoint(0.1 - 0.9e-3 * s, 0.1 + 0.9e-3 * c)), 12);
        Assert.Equal(10e-3, field.ThicknessAt(new SurfacePoint(0.1 - 1.1e-3 * s, 0.1 + 1.1e-3 * c)), 12);
    }

    [Fact]
    public void ThicknessAt_ManyFeatures_CombineAsStated()
    {
        var wall = new WallSection
        {
            Steps =
            [
                new StepFeature
                {
                    Along = Mm(100),
                    Around = Mm(100),
                    Length = Mm(60),
                    Width = Mm(60),
                    Wall = DepthMm(8),
                    EdgeRadiusMetres = 4e-3,
                },
            ],
            Pits =
            [
                new PitFeature
                {
                    Along = Mm(100),
                    Around = Mm(100),
                    Shape = PitShape.Cylindrical,
                    Diameter = Mm(10),
                    Depth = DepthMm(2),
                },
                new PitFeature
                {
                    Along = Mm(104),
                    Around = Mm(100),
                    Shape = PitShape.Cylindrical,
                    Diameter = Mm(10),
                    Depth = DepthMm(1),
                },
            ],
            Patches =
            [
                new PatchFeature
                {
                    Along = Mm(100),
                    Around = Mm(100),
                    Length = Mm(40),
                    Width = Mm(20),
                    Depth = DepthMm(1),
                },
            ],
            Holes =
            [
                new HoleFeature
                {
                    Along = Mm(120),
                    Around = Mm(100),
                    Diameter = Mm(6),
                    Wall = DepthMm(3),
                },
            ],
            Grooves =
            [
                new GrooveFeature
                {
                    Along = Mm(30),
                    Around = Mm(100),
                    Length = Mm(40),
                    Width = Mm(6),
                    Depth = DepthMm(2),
                    Profile = GrooveProfile.Vee,
                },
            ],
            Roughness =
            [
                new RoughnessField
                {
                    Along = Mm(30),
                    Around = Mm(30),
                    Length = Mm(20),
                    Width = Mm(20),
                    RmsMetres = 0,
                    MeanLoss = DepthMm(0.5),
                },
            ],
        };
        WallField field = Wall(Plate, wall);
        double At(double along, double around) => field.ThicknessAt(new SurfacePoint(along / 1000, around / 1000));
        static double Patch(double x, double y) => 1e-3 * Math.Exp(-Math.Log(2) * (x * x / 400 + y * y / 100));
        // Step 8, deepest pit 2, patch 1 at its centre.
        Assert.Equal(5e-3, At(100, 100), 12);
        // Patch: half of its depth at half of its width; Gaussian at distance x: exp(-ln 2 (x/10)²).
        Assert.Equal(8e-3 - 0.5e-3, At(100, 110), 12);
        Assert.Equal(8e-3 - 1e-3 * Math.Exp(-Math.Log(2) * 0.64), At(100, 108), 12);
        // The shallower pit alone: x = 107, patch (7/20)².
        Assert.Equal(8e-3 - 1e-3 - 1e-3 * Math.Exp(-Math.Log(2) * 0.1225), At(107, 100), 12);
        // A hole by its wall is exact in spite of the patch.
        Assert.Equal(3e-3, At(120, 100), 12);
        // Step edge: half way up after half of the edge; all the way after all of it.
        Assert.Equal(9e-3 - Patch(0, 32), At(100, 132), 12);
        Assert.Equal(10e-3 - Patch(0, 34.1), At(100, 134.1), 12);
        // Vee groove: half of its depth a quarter of the width off.
        Assert.Equal(9e-3 - Patch(70, 1.5), At(30, 101.5), 12);
        // Mean loss in its rectangle, nothing outside of the taper.
        Assert.Equal(9.5e-3, At(30, 30), 12);
        Assert.Equal(10e-3, At(30, 46), 12);
    }

    [Fact]
    public void ThicknessAt_BentElbow_IsThinAtTheExtradosAndThickAtTheIntrados()
    {
        WallField field = Wall(Elbow6, new WallSection { BendThinningFraction = 0.08, BendThickeningFraction = 0.12 });
        double radius = 0.1683 / 2;
        Assert.Equal(7.11e-3 * 0.92, field.ThicknessAt(new SurfacePoint(0.1, 0)), 12);
        Assert.Equal(7.11e-3, field.ThicknessAt(new SurfacePoint(0.1, Math.PI / 2 * radius)), 12);
        Assert.Equal(7.11e-3 * 1.12, field.ThicknessAt(new SurfacePoint(0.1, Math.PI * radius)), 12);
        // Straight ends: nominal again one outside radius away.
        WallField ends = Wall(
            Elbow6 with
            {
                StraightEndsMetres = 0.1,
            },
            new WallSection { BendThinningFraction = 0.08 }
        );
        Assert.Equal(7.11e-3 * 0.96, ends.ThicknessAt(new SurfacePoint(-radius / 2, 0)), 12);
        Assert.Equal(7.11e-3, ends.ThicknessAt(new SurfacePoint(-radius, 0)), 12);
    }

    [Fact]
    public void Sample_AcrossTheSeam_IsThePointValueOfTheWrappedPlace()
    {
        var wall = new WallSection
        {
            Pits =
            [
                new PitFeature
                {
                    Along = Mm(100),
                    Around = Mm(0),
                    Shape = PitShape.Conical,
                    Diameter = Mm(12),
                    Depth = DepthMm(3),
                },
            ],
            Patches =
            [
                new PatchFeature
                {
                    Along = Mm(150),
                    Around = Degrees(180),
                    Length = Mm(80),
                    Width = Degrees(300),
                    Depth = DepthMm(1),
                    Smoothness = 4,
                },
            ],
            Roughness = [new RoughnessField { RmsMetres = 0.1e-3, CorrelationAlongMetres = 4e-3 }],
        };
        WallField field = Wall(Elbow6, wall);
        double girth = Math.PI * 0.1683;
        foreach (double around in (double[])[0, girth / 2, girth - 1e-3])
        {
            var centre = new SurfacePoint(0.1, around);
            const int side = 40;
            float[] patch = Sample(field, centre, 0.3e-3, side);
            double stretch = field.Shape.Stretch(centre);
            for (int i = 0; i < side; i += 3)
            for (int j = 0; j < side; j += 3)
            {
                double along = 0.1 + (i - (side - 1) / 2.0) * 0.3e-3 / stretch;
                double across = field.Shape.Wrap(around + (j - (side - 1) / 2.0) * 0.3e-3);
                // Floats hold 7 mm to 5e-10.
                Assert.Equal(field.ThicknessAt(new SurfacePoint(along, across)), patch[i * side + j], 2e-9);
            }
        }
        // The cone is whole on both sides of the seam.
        Assert.Equal(
            field.ThicknessAt(new SurfacePoint(0.3, 1e-9)),
            field.ThicknessAt(new SurfacePoint(0.3, girth - 1e-9)),
            1e-7
        );
    }

    [Fact]
    public void Sample_ThousandsOfPits_IsTheDeepestOfAllByBruteForce()
    {
        var cluster = new PitCluster
        {
            Count = 4000,
            MedianDepthMetres = 1e-3,
            DepthSpread = 0.6,
            Shape = PitShape.Conical,
        };
        var large = new PitFeature
        {
            Along = Degrees(40),
            Around = Degrees(10),
            Shape = PitShape.Conical,
            Diameter = Mm(150),
            Depth = DepthMm(1),
        };
        WallField field = Wall(Elbow6, new WallSection { Pits = [large], Clusters = [cluster] }, seed: 6);
        Assert.Equal(4001, field.CutCount);
        ComponentShape shape = field.Shape;
        foreach (
            SurfacePoint centre in (SurfacePoint[])[new(0.05, 0.001), new(0.2, 0.26), new(0.359, 0.5285), new(0, 0.1)]
        )
        {
            const int side = 31;
            float[] patch = Sample(field, centre, 0.5e-3, side);
            for (int i = 0; i < side; i += 5)
            for (int j = 0; j < side; j += 5)
            {
                double along = centre.AlongMetres + (i - 15) * 0.5e-3 / shape.Stretch(centre);
                double around = centre.AroundMetres + (j - 15) * 0.5e-3;
                double deepest = 0;
                for (int cut = 0; cut < field.CutCount; cut++)
                {
                    (SurfacePoint at, double depth) = field.CutAt(cut);
                    double half = cut == 0 ? 0.075 : 2 * depth;
                    double u = (along - at.AlongMetres) * shape.Stretch(at);
                    double v = shape.WrapDifference(around - at.AroundMetres);
                    deepest = Math.Max(deepest, depth * (1 - Math.Sqrt(u * u + v * v) / half));
                }
                Assert.Equal(7.11e-3 - deepest, patch[i * side + j], 2e-9);
            }
        }
    }

    [Fact]
    public void IsFlatWithin_WhereItSaysSo_TheWallIsFlat()
    {
        var wall = new WallSection
        {
            BendThinningFraction = 0.08,
            BendThickeningFraction = 0.1,
            Steps =
            [
                new StepFeature
                {
                    Along = Degrees(30),
                    Around = Degrees(90),
                    Length = Mm(40),
                    Width = Mm(40),
                    Wall = DepthMm(5),
                },
            ],
            Holes =
            [
                new HoleFeature
                {
                    Along = Degrees(60),
                    Around = Degrees(90),
                    Diameter = Mm(20),
                    Depth = DepthMm(2),
                },
            ],
            Pits =
            [
                new PitFeature
                {
                    Along = Degrees(60),
                    Around = Degrees(200),
                    Diameter = Mm(9),
                    Depth = DepthMm(2),
                    AngleRadians = 1,
                },
            ],
            Patches =
            [
                new PatchFeature
                {
                    Along = Degrees(45),
                    Around = Degrees(300),
                    Length = Mm(80),
                    Width = Mm(50),
                    Depth = DepthMm(2),
                },
            ],
            Clusters =
            [
                new PitCluster
                {
                    Count = 60,
                    Along = Degrees(20),
                    Around = Degrees(180),
                    Length = Mm(60),
                    Width = Mm(60),
                },
            ],
        };
        WallField field = Wall(Elbow6, wall);
        int flat = 0;
        for (int i = 0; i < 40; i++)
        for (int j = 0; j < 60; j++)
        {
            var centre = new SurfacePoint(i * 9e-3, j * 8.8e-3);
            if (!field.IsFlatWithin(centre, 4e-3))
                continue;
            flat++;
            double here = field.ThicknessAt(centre);
            const int side = 9;
            float[] patch = Sample(field, centre, 1e-3, side);
            for (int a = 0; a < side; a++)
            for (int b = 0; b < side; b++)
                if ((a - 4) * (a - 4) + (b - 4) * (b - 4) <= 16)
                    // One tolerance each for the bend and the patch (which counts from end to end of the disc).
                    Assert.InRange(patch[a * side + b], here - 76e-6, here + 76e-6);
        }
        Assert.InRange(flat, 500, 2300);
        Assert.True(field.IsFlatWithin(new SurfacePoint(Math.PI / 6 * 0.2286, Math.PI / 2 * 0.08415), 15e-3));
        Assert.False(field.IsFlatWithin(new SurfacePoint(Math.PI / 6 * 0.2286 + 0.02, Math.PI / 2 * 0.08415), 4e-3));
    }

    [Fact]
    public void FootprintAt_PitBesideTheAxis_FindsItsBottomAndTheMean()
    {
        var pit = new PitFeature
        {
            Along = Mm(101.33),
            Around = Mm(99.21),
            Shape = PitShape.Conical,
            Diameter = Mm(1),
            Depth = DepthMm(4),
        };
        WallField field = Wall(Plate, new WallSection { Pits = [pit] });
        WallSummary summary = field.FootprintAt(Middle, 8e-3, 8e-3);
        Assert.Equal(6e-3, summary.MinimumMetres, 12);
        double volume = Math.PI * 0.25e-6 * 4e-3 / 3;
        // A cone of 1 mm under cells of 0.24 mm: the mean loss of 16 µm is known to a fifth of itself.
        Assert.Equal(10e-3 - volume / 64e-6, summary.MeanMetres, 0.2 * volume / 64e-6);
        Assert.Equal(new WallSummary(10e-3, 10e-3), field.FootprintAt(new SurfacePoint(0.05, 0.05), 8e-3, 8e-3));
    }

    [Fact]
    public void Compile_YearsLater_ThePitsAreTheSameButDeeper()
    {
        var wall = new WallSection
        {
            Clusters = [new PitCluster { Count = 50, GrowthMetresPerYear = 0.1e-3 }],
            Roughness =
            [
                new RoughnessField
                {
                    RmsMetres = 0.05e-3,
                    MeanLoss = DepthMm(0.3),
                    GrowthMetresPerYear = 0.05e-3,
                },
            ],
        };
        WallField first = Wall(Elbow6, wall);
        WallField later = Wall(Elbow6, wall, years: 5);
        for (int cut = 0; cut < 50; cut++)
        {
            Assert.Equal(first.CutAt(cut).Centre, later.CutAt(cut).Centre);
            Assert.Equal(first.CutAt(cut).DepthMetres + 0.5e-3, later.CutAt(cut).DepthMetres, 12);
        }
        Assert.Equal(
            first.ThicknessAt(first.CutAt(7).Centre) - 0.75e-3,
            later.ThicknessAt(first.CutAt(7).Centre),
            // A deeper, wider neighbour may reach over the centre.
            12
        );
    }

    [Fact]
    public void Sample_FromManyThreads_IsTheSame()
    {
        var wall = new WallSection
        {
            Clusters = [new PitCluster { Count = 500 }],
            Roughness = [new RoughnessField { RmsMetres = 0.1e-3 }],
        };
        WallField field = Wall(Elbow6, wall);
        float[] expected = Sample(field, Middle, 0.2e-3, 60);
        var found = new float[8][];
        var threads = Enumerable
            .Range(0, 8)
            .Select(i => new Thread(() => found[i] = Sample(field, Middle, 0.2e-3, 60)))
            .ToArray();
        Array.ForEach(threads, t => t.Start());
        Array.ForEach(threads, t => t.Join());
        Assert.All(found, f => Assert.Equal(expected, f));
        Assert.Equal(expected, Sample(Wall(Elbow6, wall), Middle, 0.2e-3, 60));
        Assert.NotEqual(expected, Sample(Wall(Elbow6, wall, seed: 2), Middle, 0.2e-3, 60));
    }

    [Fact]
    public void LaminationUnder_Footprint_KnowsTheCoveredPart()
    {
        var wall = new WallSection
        {
            Laminations =
            [
                new LaminationFeature
                {
                    Along = Mm(100),
                    Around = Mm(100),
                    Length = Mm(20),
                    Width = Mm(10),
                    Depth = DepthMm(4),
                    ReflectedFraction = 0.6,
                },
            ],
            Inclusions =
            [
                new InclusionFeature
                {
                    Along = Mm(50),
                    Around = Mm(50),
                    Length = Mm(20),
                    Width = Mm(20),
                    Count = 30,
                    DiameterMetres = 2e-3,
                },
            ],
        };
        WallField field = Wall(Plate, wall);
        Assert.Equal(new LaminarHit(4e-3, 0.6), field.LaminationAt(Middle));
        Assert.Null(field.LaminationAt(new SurfacePoint(0.1, 0.1051)));
        Assert.Equal(
            4e-3,
            field.LaminationUnder(new SurfacePoint(0.11, 0.1), 8e-3, 8e-3, out double cover)!.Value.DepthMetres
        );
        Assert.Equal(0.5, cover, 12);
        Assert.Null(field.LaminationUnder(new SurfacePoint(0.15, 0.1), 8e-3, 8e-3, out cover));
        Assert.Equal(0, cover);
        // The region holds all discs: areas of thirty (overlaps counted once) at the most, one at the least; depths in the middle 80 %.
        int hits = 0;
        for (int i = 0; i < 200; i++)
        for (int j = 0; j < 200; j++)
            if (field.LaminationAt(new SurfacePoint(0.038 + i * 0.12e-3, 0.038 + j * 0.12e-3)) is { } hit)
            {
                hits++;
                Assert.InRange(hit.DepthMetres, 1e-3, 9e-3);
            }
        double disc = Math.PI * 1e-6 / (0.12e-3 * 0.12e-3);
        Assert.InRange(hits, 15 * disc, 30.5 * disc);
    }

    [Theory]
    [InlineData("wall.pit[1].depth", 11, 6)]
    [InlineData("wall.pit[1].depth", 4, 6)]
    [InlineData("wall.pit[1].diameter", 4, 0)]
    public void Compile_ImpossiblePit_NamesTheKey(string key, double depth, double diameter)
    {
        var pit = new PitFeature
        {
            Along = Mm(100),
            Around = Mm(100),
            Diameter = Mm(diameter),
            Depth = DepthMm(depth),
        };
        ProcedureException error = Assert.Throws<ProcedureException>(() =>
            Wall(Plate, new WallSection { Pits = [pit] })
        );
        Assert.Contains(error.Findings, f => f.Key == key);
    }

    [Fact]
    public void Compile_EveryShippedScenario_GivesAPositiveWall()
    {
        foreach (string name in SceneCatalog.Names)
        {
            Scene scene = SceneCatalog.Read(name).Value;
            WallField field = WallField.Compile(scene, ".");
            SurfaceField surface = SurfaceField.Compile(scene);
            for (int i = 1; i < 20; i++)
            for (int j = 0; j < 20; j++)
            {
                var point = new SurfacePoint(field.Shape.LengthMetres * i / 20, field.Shape.WidthMetres * j / 20);
                Assert.True(field.ThicknessAt(point) > 0, name);
                Assert.True(surface.PaintAt(point).ThicknessMetres >= 0, name);
            }
        }
    }
}
