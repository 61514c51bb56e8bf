using EchoToThickness.Geometry;
using Xunit;

namespace EchoToThickness.Tests.Geometry;

/// <summary>Rows PG-OD, PG-t, PG-LR90, PG-SR180 of testdata/checks/04_pipe_geometry.csv: ASME B36.10M and B16.9.</summary>
public sealed class PipeSizesTests
{
    [Fact]
    public void All_OutsideDiameters_AreThoseOfTheTable()
    {
        string[] rows = [.. CheckRows.Ids("PG-OD-")];
        Assert.Equal(14, rows.Length);
        Assert.Equal(rows.Length, PipeSizes.All.Count);
        foreach (string row in rows)
            Assert.Equal(CheckRows.Expected(row), Size(row).OutsideDiameterMetres * 1000, 9);
    }

    [Fact]
    public void WallMetres_EverySchedule_IsThatOfTheTable()
    {
        string[] rows = [.. CheckRows.Ids("PG-t-")];
        Assert.Equal(14 * 5, rows.Length);
        foreach (string row in rows)
            Assert.Equal(CheckRows.Expected(row), Size(row).WallMetres(row.Split('-')[2])!.Value * 1000, 9);
    }

    [Fact]
    public void BendRadii_OfElbows_AreMultiplesOfTheNominalSize()
    {
        // The tables print whole millimetres (2 mm), and for the return centre to centre, twice the radius (6 mm to NPS 8, then 10).
        foreach (string row in CheckRows.Ids("PG-LR90-"))
            Assert.Equal(CheckRows.Expected(row), Size(row).LongRadiusMetres * 1000, 2.0);
        foreach (string row in CheckRows.Ids("PG-SR180-"))
            Assert.Equal(CheckRows.Expected(row), 2 * Size(row).ShortRadiusMetres * 1000, 6.0);
        // Trap: 1.5 times the outside diameter of NPS 4 would be 171 mm.
        Assert.Equal(0.1524, PipeSizes.Find("4")!.LongRadiusMetres, 12);
    }

    [Theory]
    [InlineData("6", "6")]
    [InlineData("NPS 6", "6")]
    [InlineData(" nps2.5 ", "2.5")]
    [InlineData("2.50", "2.5")]
    [InlineData("22", null)]
    [InlineData("six", null)]
    [InlineData("-6", null)]
    [InlineData("", null)]
    public void Find_AsWritten_IsTheSizeOrNull(string text, string? name) =>
        Assert.Equal(name, PipeSizes.Find(text)?.Name);

    [Fact]
    public void WallMetres_UnknownSchedule_IsNull()
    {
        Assert.Null(PipeSizes.Find("6")!.WallMetres("41"));
        Assert.Equal(PipeSizes.Find("6")!.WallMetres("XS"), PipeSizes.Find("6")!.WallMetres("xs"));
    }

    private static PipeSize Size(string row) => PipeSizes.Find(row.Split('-')[^1])!;
}
