using EchoToThickness.Validation;
using EchoToThickness.Validation.Effects;
using Xunit;

namespace EchoToThickness.Tests.Validation;

public sealed class LinearModelTests
{
    [Theory]
    [InlineData("Norris", 1, true, 1e-9)]
    [InlineData("NoInt1", 1, false, 1e-9)]
    [InlineData("NoInt2", 1, false, 1e-9)]
    [InlineData("Pontius", 2, true, 1e-9)]
    [InlineData("Wampler5", 5, true, 1e-5)]
    [InlineData("Filip", 10, true, 1e-6)]
    public void Fit_NistSets_MeetTheCertifiedValues(string name, int degree, bool hasMean, double relative)
    {
        double[][] rows = ReferenceData.NistRows(name);
        double[] y = rows.Select(r => r[0]).ToArray();
        var columns = new List<LinearColumn>();
        for (int k = hasMean ? 0 : 1; k <= degree; k++)
            columns.Add(new LinearColumn($"x^{k}", rows.Select(r => Math.Pow(r[1], k)).ToArray()));
        LinearModel model = LinearModel.Fit(y, columns, 0.95, out Refusal? refusal)!;
        Assert.Null(refusal);
        for (int k = 0; k < columns.Count; k++)
        {
            double[] expected = CheckRows.ExpectedList($"NIST-{name}-B{k}");
            ReferenceData.Close(expected[0], model.Coefficients[k].Value, relative);
            ReferenceData.Close(expected[1], model.Coefficients[k].StandardError, relative);
        }
        double[] spread = CheckRows.ExpectedList($"NIST-{name}-s");
        ReferenceData.Close(spread[0], model.ResidualDeviation, 1e-8);
        ReferenceData.Close(spread[1], model.Determination, 1e-8);
    }

    [Fact]
    public void Fit_AliasedColumns_NamesTheColumn()
    {
        LinearColumn x = new("gain", [1, 2, 3, 4]);
        Assert.Null(
            LinearModel.Fit(
                [1, 2, 3, 5],
                [LinearColumn.One(4), x, new("speed", [3, 5, 7, 9])],
                0.95,
                out Refusal? refusal
            )
        );
        Assert.Equal(RefusalReason.NotIdentified, refusal!.Reason);
        Assert.Contains("speed", refusal.Message, StringComparison.Ordinal);
    }
}
