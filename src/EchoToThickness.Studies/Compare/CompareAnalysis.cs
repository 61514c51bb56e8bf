using EchoToThickness.Studies.Resampling;
using EchoToThickness.Studies.Running;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.StudyFiles;
using MathNet.Numerics.Distributions;

namespace EchoToThickness.Studies.Compare;

/// <summary>Turns the finished pieces of a study into figures with intervals, paired tests and thresholds.</summary>
public static class CompareAnalysis
{
    /// <summary>Analyses a study that has been measured.</summary>
    /// <param name="plan">The study.</param>
    /// <param name="store">Its finished pieces.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The same report on any number of threads.</returns>
    /// <exception cref="InvalidOperationException">A piece is missing: <see cref="StudyRunner.Run"/> has not finished.</exception>
    public static CompareReport Run(StudyPlan plan, UnitStore store, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(store);
        var rows = new List<CompareRow>();
        var paired = new List<PairedRow>();
        var thresholds = new List<ThresholdRow>();
        var reliability = new List<ReliabilityRow>();
        foreach (IGrouping<string, StudyPoint> source in plan.Points.GroupBy(p => p.Source))
        {
            var part = new SourceAnalysis(plan, source.Key);
            foreach (StudyPoint point in source)
            {
                cancellation.ThrowIfCancellationRequested();
                part.Add(point, Load(plan, store, point));
            }
            rows.AddRange(part.Rows());
            paired.AddRange(part.Paired());
            thresholds.AddRange(part.Thresholds());
            reliability.AddRange(part.Reliability());
        }
        return new CompareReport
        {
            Study = plan.Study,
            StudySha256 = plan.StudySha256,
            Methods = [.. plan.Methods.Select(m => (m.Name, m.ProcedureSha256))],
            Rows = rows,
            Paired = [.. paired.GroupBy(r => r.Group.Kind).SelectMany(kind => PairTotals.Adjust([.. kind]))],
            Thresholds = thresholds,
            Reliability = reliability,
            Registrations =
            [
                .. plan
                    .Points.OfType<StackPoint>()
                    .SelectMany(p =>
                        p.Registrations.Select(
                            (r, block) => ($"{p} {p.LineOf(block)}".TrimEnd(), p.Drawing?.File.Header.Name ?? "", r)
                        )
                    ),
            ],
        };
    }

    private static CellSample[] Load(StudyPlan plan, UnitStore store, StudyPoint point)
    {
        ReportSettings report = plan.Study.Report;
        double quantile = Normal.InvCDF(0, 1, (1 + report.Level) / 2);
        AccuracyRules Rules(BlockTruth truth) =>
            AccuracyRules.For(truth.VelocityMetresPerSecond, truth.FrequencyHz) with
            {
                GrossMetres = report.GrossMetres,
                GrossFraction = report.GrossFraction,
            };
        BlockTruth[] truths =
        [
            .. Enumerable
                .Range(0, point.Blocks)
                .Select(block => store.ReadTruth(UnitStore.NameOf(point, block)) ?? throw Unfinished(point)),
        ];
        return
        [
            .. plan.Methods.Select(method =>
                CellSample.Of(
                    [
                        .. truths.Select(
                            (truth, block) =>
                                (
                                    truth,
                                    store.ReadResult(UnitStore.NameOf(point, block, method.ProcedureSha256))
                                        ?? throw Unfinished(point)
                                )
                        ),
                    ],
                    Rules,
                    quantile,
                    method.Bound
                )
            ),
        ];
    }

    private static InvalidOperationException Unfinished(StudyPoint point) =>
        new($"The study is not finished: {point} has not been measured.");
}
