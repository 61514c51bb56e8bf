using EchoToThickness.Procedures;
using EchoToThickness.Studies.Drawings;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>Drawings: walls against closed forms, places found against places planted.</summary>
public sealed class DrawingTests
{
    private const string Pits = """
        [block]
        name = "b"
        length = "120 mm"
        width = "60 mm"
        wall = "10 mm"
        uncertainty = "0.04 mm"
        footprint = "4 mm"
        [[step]]
        name = "thin"
        along = "15 mm"
        across = "30 mm"
        length = "30 mm"
        width = "60 mm"
        wall = "8 mm"
        [[hole]]
        name = "hole"
        along = "50 mm"
        across = "18 mm"
        diameter = "8 mm"
        wall = "4 mm"
        uncertainty = "0.01 mm"
        [[pit]]
        name = "cap"
        along = "75 mm"
        across = "40 mm"
        diameter = "12 mm"
        wall = "8 mm"
        [[pit]]
        name = "cone"
        along = "100 mm"
        across = "20 mm"
        shape = "conical"
        diameter = "10 mm"
        width = "20 mm"
        angle = "90 deg"
        wall = "6 mm"
        [[leave_out]]
        reason = "stamp"
        along = "110 mm"
        across = "50 mm"
        length = "10 mm"
        width = "10 mm"
        """;

    [Theory]
    [InlineData(10, 30, 8, "thin")]
    [InlineData(40, 30, 10, "b")]
    [InlineData(50, 18, 4, "hole")]
    [InlineData(53.9, 18, 4, "hole")]
    [InlineData(54.1, 18, 10, "b")]
    [InlineData(75, 40, 8, "cap")]
    // Cap: a = 6, d = 2, S = (36 + 4) / 4 = 10; at 3 mm √(100 - 9) - 8 = 1.539392...
    [InlineData(78, 40, 10 - 1.539392014169456, "cap")]
    // Cone turned by 90 deg: its half mouth of 5 mm lies across, that of 10 mm along; depth 4 (1 - ρ).
    [InlineData(105, 20, 8, "cone")]
    [InlineData(100, 22.5, 8, "cone")]
    public void Wall_IsThatOfTheForm(double along, double across, double wall, string feature)
    {
        var drawing = new Drawing(DrawingFile.Parse(Pits, "b.toml"));
        Assert.Equal(wall * 1e-3, drawing.WallMetres(along * 1e-3, across * 1e-3, out int found), 1e-12);
        Assert.Equal(feature, drawing.Features[found].Name);
    }

    [Theory]
    [InlineData(-0.1, 30)]
    [InlineData(120.1, 30)]
    [InlineData(60, 60.1)]
    [InlineData(110, 50)]
    public void Wall_OutsideAndLeftOut_IsNotKnown(double along, double across)
    {
        var drawing = new Drawing(DrawingFile.Parse(Pits, "b.toml"));
        Assert.True(double.IsNaN(drawing.WallMetres(along * 1e-3, across * 1e-3, out int found)));
        Assert.Equal(Drawing.NoFeature, found);
    }

    [Fact]
    public void Uncertainty_IsDividedByTheCoverageFactor()
    {
        var drawing = new Drawing(DrawingFile.Parse(Pits, "b.toml"));
        Assert.Equal(20e-6, drawing.Features[0].StandardUncertaintyMetres, 1e-15);
        Assert.Equal(5e-6, drawing.Features.Single(f => f.Name == "hole").StandardUncertaintyMetres, 1e-15);
    }

    [Fact]
    public void WallsWithin_ReachOverAnEdge()
    {
        var drawing = new Drawing(DrawingFile.Parse(Pits, "b.toml"));
        Assert.Equal((8e-3, 10e-3), drawing.WallsWithin(31e-3, 5e-3, 2e-3));
        Assert.Equal((10e-3, 10e-3), drawing.WallsWithin(33e-3, 5e-3, 2e-3));
        // The deepest point of the cone lies inside, however the rings fall.
        Assert.Equal(6e-3, drawing.WallsWithin(101.3e-3, 20.4e-3, 2e-3).Smallest, 1e-12);
    }

    [Theory]
    [InlineData("along = \"50 mm\"", "along = \"130 mm\"", "hole[1].along", "outside of the block")]
    [InlineData("wall = \"4 mm\"", "wall = \"10 mm\"", "hole[1].wall", "the wall that remains, not the depth")]
    [InlineData("name = \"cone\"", "name = \"cap\"", "pit[2].name", "stands for 2 features")]
    [InlineData("length = \"120 mm\"", "lenght = \"120 mm\"", "lenght", "length")]
    [InlineData("diameter = \"8 mm\"", "diameter = 8", "hole[1].diameter", "has no unit")]
    public void Faults_NameKeyValueAndRemedy(string right, string wrong, string key, string text)
    {
        string toml = Pits.Replace(right, wrong, StringComparison.Ordinal);
        ProcedureException error = Assert.Throws<ProcedureException>(() => DrawingFile.Parse(toml, "b.toml"));
        ProcedureFinding finding = error.Findings.First(f => f.Key.Contains(key, StringComparison.Ordinal));
        Assert.StartsWith("b.toml(", finding.Place, StringComparison.Ordinal);
        Assert.Contains(text, finding.What + finding.Remedy, StringComparison.Ordinal);
    }

    /// <summary>Planted places are found from noisy walls with a bias, lost cells and doubled walls.</summary>
    [Theory]
    [InlineData(0, 0, 0, 0, false, false)]
    [InlineData(7.3, -3.6, 0, 0, false, false)]
    [InlineData(-9.4, 2.2, 1.2, 0, false, false)]
    [InlineData(4.1, 1.7, 0, 1.0, false, false)]
    [InlineData(-2.6, 3.3, -0.8, -0.7, false, false)]
    [InlineData(3.2, -2.1, 0, 0, true, false)]
    [InlineData(3.2, -2.1, 0.5, 0, false, true)]
    public void Find_PlantedPlace_IsFoundToAThirdOfAPitch(
        double alongMm,
        double acrossMm,
        double turnDegrees,
        double stretchPercent,
        bool backAlong,
        bool backAcross
    )
    {
        string toml =
            Pits
            + "\n[registration]\nmay_be_reversed_along = true\nmay_be_reversed_across = true\nsearch_along = \"12 mm\"\nsearch_across = \"6 mm\"\n";
        var drawing = new Drawing(DrawingFile.Parse(toml, "b.toml"));
        var cells = new ScannedCells(
            [.. Enumerable.Range(0, 100).Select(i => 10e-3 + i * 1e-3)],
            [.. Enumerable.Range(0, 48).Select(i => 6e-3 + i * 1e-3)]
        );
        var planted = new DrawingRegistration
        {
            CentreAlongMetres = cells.CentreAlongMetres,
            CentreAcrossMetres = cells.CentreAcrossMetres,
            ShiftAlongMetres = alongMm * 1e-3,
            ShiftAcrossMetres = acrossMm * 1e-3,
            AngleRadians = turnDegrees * Math.PI / 180,
            StretchFraction = stretchPercent / 100,
            ReversedAlong = backAlong,
            ReversedAcross = backAcross,
            Note = "",
        };
        float[] walls = Measured(drawing, cells, planted);

        DrawingRegistration found = DrawingRegistrar.Find(drawing, cells, walls, TestContext.Current.CancellationToken);

        Assert.True(found.IsReliable, found.Note);
        Assert.True(found.DecidedAlong && found.DecidedAcross, found.Note);
        Assert.Equal((backAlong, backAcross), (found.ReversedAlong, found.ReversedAcross));
        foreach ((double x, double y) in new[] { (15e-3, 10e-3), (60e-3, 30e-3), (105e-3, 50e-3) })
        {
            (double along, double across) = found.Place(x, y);
            (double trueAlong, double trueAcross) = planted.Place(x, y);
            Assert.Equal(trueAlong, along, 0.35e-3);
            Assert.Equal(trueAcross, across, 0.35e-3);
        }
        // The bias of 50 um stays: it is reported, and moved nothing.
        Assert.Equal(50e-6, found.MedianDifferenceMetres, 10e-6);
    }

    [Fact]
    public void Find_StepsAcrossTheWholeWidth_LeavesTheOtherAxisWhereItWas()
    {
        const string Toml = """
            [block]
            name = "s"
            length = "60 mm"
            width = "80 mm"
            footprint = "4 mm"
            [[step]]
            name = "1"
            along = "15 mm"
            across = "40 mm"
            length = "30 mm"
            width = "80 mm"
            wall = "6 mm"
            [[step]]
            name = "2"
            along = "45 mm"
            across = "40 mm"
            length = "30 mm"
            width = "80 mm"
            wall = "7 mm"
            [registration]
            search_along = "10 mm"
            search_across = "5 mm"
            """;
        var drawing = new Drawing(DrawingFile.Parse(Toml, "s.toml"));
        var cells = new ScannedCells(
            [.. Enumerable.Range(0, 40).Select(i => 10e-3 + i * 1e-3)],
            [.. Enumerable.Range(0, 30).Select(i => 20e-3 + i * 1e-3)]
        );
        DrawingRegistration planted = At(cells, 4e-3, 0);
        DrawingRegistration found = DrawingRegistrar.Find(
            drawing,
            cells,
            Measured(drawing, cells, planted),
            TestContext.Current.CancellationToken
        );
        Assert.True(found.IsReliable, found.Note);
        Assert.True(found.DecidedAlong);
        Assert.False(found.DecidedAcross);
        // One edge, and cells a millimetre apart: it lies anywhere between two of them.
        Assert.Equal(4e-3, found.ShiftAlongMetres, 0.5e-3);
        Assert.Equal(0, found.ShiftAcrossMetres, 0.3e-3);
        Assert.Contains("across, the drawing decides nothing", found.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void Find_TwoEqualHoles_IsRefusedAsAmbiguous()
    {
        const string Toml = """
            [block]
            name = "t"
            length = "100 mm"
            width = "40 mm"
            wall = "10 mm"
            footprint = "4 mm"
            [[hole]]
            name = "1"
            along = "40 mm"
            across = "20 mm"
            diameter = "8 mm"
            wall = "5 mm"
            [[hole]]
            name = "2"
            along = "60 mm"
            across = "20 mm"
            diameter = "8 mm"
            wall = "5 mm"
            [registration]
            search_along = "25 mm"
            search_across = "3 mm"
            """;
        var drawing = new Drawing(DrawingFile.Parse(Toml, "t.toml"));
        // The scan sees one hole only: it may be either.
        var cells = new ScannedCells(
            [.. Enumerable.Range(0, 16).Select(i => 32e-3 + i * 1e-3)],
            [.. Enumerable.Range(0, 20).Select(i => 10e-3 + i * 1e-3)]
        );
        DrawingRegistration found = DrawingRegistrar.Find(
            drawing,
            cells,
            Measured(drawing, cells, At(cells, 0, 0)),
            TestContext.Current.CancellationToken
        );
        Assert.False(found.IsReliable);
        Assert.Contains("nearly as well", found.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void Find_WrongBlock_IsRefused()
    {
        var drawing = new Drawing(DrawingFile.Parse(Pits, "b.toml"));
        var cells = new ScannedCells(
            [.. Enumerable.Range(0, 60).Select(i => 20e-3 + i * 1e-3)],
            [.. Enumerable.Range(0, 40).Select(i => 10e-3 + i * 1e-3)]
        );
        float[] walls = [.. Enumerable.Repeat(6.5e-3f, cells.Count)];
        DrawingRegistration found = DrawingRegistrar.Find(drawing, cells, walls, TestContext.Current.CancellationToken);
        Assert.False(found.IsReliable);
        Assert.Contains("do not resemble the drawing", found.Note, StringComparison.Ordinal);
    }

    private static DrawingRegistration At(ScannedCells cells, double along, double across) =>
        new()
        {
            CentreAlongMetres = cells.CentreAlongMetres,
            CentreAcrossMetres = cells.CentreAcrossMetres,
            ShiftAlongMetres = along,
            ShiftAcrossMetres = across,
            Note = "",
        };

    /// <summary>Walls as a beam of 4 mm would read them: the mean over its footprint, 50 um bias, 30 um noise, 5 % lost, 2 % doubled.</summary>
    private static float[] Measured(Drawing drawing, ScannedCells cells, DrawingRegistration place)
    {
        var noise = new NormalSequence(7);
        var walls = new float[cells.Count];
        int beams = cells.AcrossMetres.Length;
        for (int i = 0; i < walls.Length; i++)
        {
            (double along, double across) = place.Place(cells.AlongMetres[i / beams], cells.AcrossMetres[i % beams]);
            double sum = 0;
            int count = 0;
            for (double x = -1.5e-3; x <= 1.6e-3; x += 0.5e-3)
            for (double y = -1.5e-3; y <= 1.6e-3; y += 0.5e-3)
                if (drawing.WallMetres(along + x, across + y) is var wall && !double.IsNaN(wall))
                {
                    sum += wall;
                    count++;
                }
            double read = sum / count + 50e-6 + 30e-6 * noise.Next();
            walls[i] = (i * 7919 % 100) switch
            {
                < 5 => float.NaN,
                < 7 => (float)(2 * read),
                _ => (float)read,
            };
        }
        return walls;
    }
}
