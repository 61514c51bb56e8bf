using EchoToThickness.Validation;
using EchoToThickness.Validation.Accuracy;
using Xunit;

namespace EchoToThickness.Tests.Validation;

public sealed class BinomialTests
{
    [Theory]
    [InlineData(29, 29)]
    [InlineData(28, 29)]
    [InlineData(45, 46)]
    [InlineData(59, 61)]
    [InlineData(58, 60)]
    [InlineData(90, 100)]
    [InlineData(0, 10)]
    [InlineData(10, 10)]
    [InlineData(3, 10)]
    [InlineData(1, 1)]
    [InlineData(0, 1)]
    public void Intervals_EqualTheCheckRows(int x, int n)
    {
        string key = $"{x}-{n}";
        ConfidenceInterval exact = BinomialInterval.ClopperPearson(x, n, 0.95);
        Assert.Equal(CheckRows.Expected("BIN-cp-lo-" + key), exact.Low, 1e-9);
        Assert.Equal(CheckRows.Expected("BIN-cp-hi-" + key), exact.High, 1e-9);
        Assert.Equal(CheckRows.Expected("BIN-cp1-lo-" + key), BinomialInterval.Lower(x, n, 0.95), 1e-9);
        ConfidenceInterval wilson = BinomialInterval.Wilson(x, n, 0.95);
        Assert.Equal(CheckRows.Expected("BIN-w-lo-" + key), wilson.Low, 1e-9);
        Assert.Equal(CheckRows.Expected("BIN-w-hi-" + key), wilson.High, 1e-9);
    }

    [Fact]
    public void ClopperPearson_PublishedValues()
    {
        double[] expected = CheckRows.ExpectedList("P-BIN-cp-20-100");
        ConfidenceInterval found = BinomialInterval.ClopperPearson(20, 100, 0.95);
        ReferenceData.Close(expected[0], found.Low, 1e-9);
        ReferenceData.Close(expected[1], found.High, 1e-9);
        expected = CheckRows.ExpectedList("P-BIN-cp-3-50");
        found = BinomialInterval.ClopperPearson(3, 50, 0.99);
        ReferenceData.Close(expected[0], found.Low, 1e-6);
        ReferenceData.Close(expected[1], found.High, 1e-6);
        Assert.False(BinomialInterval.ClopperPearson(0, 0, 0.95).IsKnown);
        Assert.Throws<ArgumentOutOfRangeException>(() => BinomialInterval.ClopperPearson(3, 2, 0.95));
    }
}
