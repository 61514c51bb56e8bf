using EchoToThickness.Validation;

namespace EchoToThickness.Studies.Validate;

/// <summary>Cells that could not be measured, and gross errors.</summary>
internal sealed class CoveragePart
{
    private readonly ValidateStudy _study;
    private readonly IReadOnlyList<Reading> _readings;

    public CoveragePart(ValidateStudy study, IReadOnlyList<Reading> readings)
    {
        _study = study;
        _readings = readings;
        Missing = Share(readings, r => r.Missing);
        Gross = Share(readings, r => r.Gross);
    }

    public Estimate Missing { get; }

    public Estimate Gross { get; }

    public StatementSection Section()
    {
        var lines = new List<IReadOnlyList<string>>();
        void Add(string head, IEnumerable<IGrouping<string, Reading>> groups)
        {
            foreach (
                IGrouping<string, Reading> group in groups.OrderBy(
                    g => g.Key,
                    Comparer<string>.Create(Words.CompareNatural)
                )
            )
                lines.Add([
                    $"{head}: {group.Key}",
                    Words.Count(group.Sum(r => r.Cells)),
                    Words.Figure(Share([.. group], r => r.Missing), StatementUnit.Percent),
                    Words.Figure(Share([.. group], r => r.Gross), StatementUnit.Percent),
                ]);
        }
        Add("wall", _readings.GroupBy(r => Bands.NameOf(_study.Report.WallBandsMetres, r.TruthMetres)));
        Add("kind", _readings.GroupBy(r => r.Kind));
        for (int f = 0; f < _study.Factors.Count; f++)
        {
            int factor = f;
            Add(_study.Factors[f].Name, _readings.GroupBy(r => r.Scan.Levels[factor]));
        }
        return new StatementSection
        {
            Title = "Missing cells and gross errors",
            Key = "missing",
            Text =
            [
                "Of cells whose certified wall is even under the beam. Gross: off by more than 0.5 mm or 10 % of the wall, whichever is smaller. Shares are of "
                    + "all cells, so that refusing a cell cannot lower them.",
            ],
            Rows =
            [
                new StatementRow("missing", Missing, StatementUnit.Percent),
                new StatementRow("gross", Gross, StatementUnit.Percent),
            ],
            Columns = ["cells of", "cells", "missing %", "gross %"],
            Lines = lines,
        };
    }

    private Estimate Share(IReadOnlyList<Reading> readings, Func<Reading, int> events) =>
        Shares.Of([.. readings.Select(r => (AccuracyPart.ClusterOf(r), events(r), r.Cells))], _study.Claim.Confidence);
}
