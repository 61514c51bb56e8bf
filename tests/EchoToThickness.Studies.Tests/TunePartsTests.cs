using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Simulation;
using EchoToThickness.Stacks;
using EchoToThickness.Studies.Searching;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.Tune;
using Xunit;

namespace EchoToThickness.Studies.Tests;

/// <summary>The parts of a search by hand: kinds of error, pits, flips, cross-validation, finished pieces.</summary>
public sealed class TunePartsTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("ett-tune-parts").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Judge_EveryKindOfError_IsToldApart()
    {
        // Walls of 8 mm; an interface that lies 0.2 us late has the zero off by 0.59 mm of metal.
        (double Value, double Late, CellStatus Status, CellKind Kind)[] cells =
        [
            (8.1e-3, 0, CellStatus.Measured, CellKind.Sound),
            (double.NaN, 0, CellStatus.NoBackWallEcho, CellKind.Missing),
            (16.2e-3, 0, CellStatus.Measured, CellKind.Doubled),
            (4.1e-3, 0, CellStatus.Measured, CellKind.Halved),
            (12.1e-3, 0, CellStatus.Measured, CellKind.Skipped),
            (9.0e-3, 0, CellStatus.Measured, CellKind.OtherThick),
            (6.9e-3, 0, CellStatus.Measured, CellKind.OtherThin),
            (7.3e-3, 0.2e-6, CellStatus.Measured, CellKind.InterfaceLost),
            (double.NaN, 0, CellStatus.NotScanned, CellKind.LeftOut),
        ];
        BlockFacts facts = Facts(1, cells.Length, _ => 8e-3, new JudgeSettings(), couplantMetres: 3e-3);
        var result = new TuneResult(facts.Info.Shape, [GridLayer.Thickness, GridLayer.InterfaceTime]);
        for (int i = 0; i < cells.Length; i++)
        {
            result.ThicknessMetres[i] = (float)cells[i].Value;
            result.Status[i] = (byte)cells[i].Status;
            // All picks 0.1 us behind the true time of 4.054 us: the constant of a pick is not lost.
            result.InterfaceSeconds[i] = (float)(2 * 3e-3 / 1480 + 0.1e-6 + cells[i].Late);
        }
        var kinds = new CellKind[cells.Length];
        var errors = new float[cells.Length];
        TuneScorer.Judge(facts, result, 0, 1, true, kinds, errors);
        Assert.Equal(cells.Select(c => c.Kind), kinds);
        Assert.Equal(0.1e-3, errors[0], 1e-7);

        WindowScore score = TuneScorer.Score(facts, result, null, 0, new JudgeSettings(), kinds, errors);
        Assert.Equal(8, score[ScoreCount.Cells]);
        // Gross of 8: doubled, halved, skipped, two others, lost.
        Assert.Equal(6.0 / 8, score.Of(TuneFigure.Gross), 1e-12);
        Assert.Equal(3.0 / 8, score.Of(TuneFigure.GrossThick), 1e-12);
        Assert.Equal(1.0 / 8, score.Of(TuneFigure.InterfaceLost), 1e-12);
        Assert.Equal(1.0 / 8, score.Of(TuneFigure.Missing), 1e-12);
        Assert.Equal(0.1e-3, score.Of(TuneFigure.Bias), 1e-7);
    }

    [Fact]
    public void Score_PitsAndFlags_ByHand()
    {
        // 8 mm with two pits of 5 mm: cells (2,2),(2,3) and (6,1); limit 6 mm.
        double Wall(int cell) => cell is 2 * 5 + 2 or 2 * 5 + 3 or 6 * 5 + 1 ? 5e-3 : 8e-3;
        var judge = new JudgeSettings { WallLimitMetres = 6e-3 };
        BlockFacts facts = Facts(8, 5, Wall, judge);
        Assert.Equal(2, facts.WindowOfPit.Length);
        // 8 scan positions make 8 windows of one.
        Assert.Equal([2, 6], facts.WindowOfPit);
        var result = new TuneResult(facts.Info.Shape, [GridLayer.Thickness]);
        Array.Fill(result.Status, (byte)CellStatus.Measured);
        for (int cell = 0; cell < 40; cell++)
            result.ThicknessMetres[cell] = 8e-3f;
        result.ThicknessMetres[2 * 5 + 3] = 5.2e-3f; // one cell of the first pit is seen, the second pit is read as sound
        result.ThicknessMetres[0] = 4e-3f; // a sound cell is flagged
        var sum = new WindowScore();
        for (int window = 0; window < 8; window++)
            sum.Add(TuneScorer.Score(facts, result, null, window, judge, new CellKind[40], new float[40]));
        Assert.Equal(0.5, sum.Of(TuneFigure.PitsMissed));
        Assert.Equal(1.0 / 37, sum.Of(TuneFigure.FlaggedWrongly), 1e-12);

        // The same pits without a limit: 3 mm under the walls around.
        var depth = new JudgeSettings { PitDepthMetres = 2e-3 };
        Assert.Equal(2, Facts(8, 5, Wall, depth).WindowOfPit.Length);
        Assert.Empty(Facts(8, 5, Wall, new JudgeSettings { PitDepthMetres = 4e-3 }).WindowOfPit);
    }

    [Fact]
    public void Flips_ByHand()
    {
        CellKind[] from = [CellKind.Sound, CellKind.Sound, CellKind.Missing, CellKind.Sound, CellKind.LeftOut];
        CellKind[] to = [CellKind.Sound, CellKind.Doubled, CellKind.Sound, CellKind.Sound, CellKind.LeftOut];
        float[] before = [8e-3f, 8e-3f, float.NaN, 8.00e-3f, float.NaN];
        float[] after = [8.05e-3f, 16e-3f, 8e-3f, 8.15e-3f, float.NaN];
        int count = Enum.GetValues<CellKind>().Length;
        var kinds = new long[count, count];
        var flips = new int[5];
        // An eighth of a wavelength at 5920 m/s and 7 MHz is 0.106 mm: 0.05 mm is none, 0.15 mm is another cycle.
        (long cells, long changed) = FlipCounter.Add(
            from,
            to,
            before,
            after,
            AccuracyRules.For(5920, 7e6),
            kinds,
            flips
        );
        Assert.Equal((4, 3), (cells, changed));
        Assert.Equal([0, 1, 1, 1, 0], flips);
        Assert.Equal(1, kinds[(int)CellKind.Sound, (int)CellKind.Doubled]);
        Assert.Equal(1, kinds[(int)CellKind.Missing, (int)CellKind.Sound]);
        Assert.Equal(1, kinds[(int)CellKind.Sound, (int)CellKind.Sound]);
        Assert.StartsWith(
            "sound to sound 1, sound to doubled 1",
            new FlipRow("x", cells, changed, kinds).InWords(),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void CrossValidation_RuleSetsThatDifferByChanceOnly_ShowsTheOptimism()
    {
        // 40 rule sets, 6 parts, losses normal with mean 10 and spread 1, all by chance. The best of all has a mean near
        // 10 - 2.16 / sqrt(6) = 9.12 (expected least of 40 normal values: -2.16, Harter 1961); what is left out knows nothing of the rest: 10.
        const int studies = 200;
        double seen = 0;
        double left = 0;
        var random = new RandomStream(17);
        for (int study = 0; study < studies; study++)
        {
            double[][] loss =
            [
                .. Enumerable
                    .Range(0, 40)
                    .Select(_ => Enumerable.Range(0, 6).Select(_ => 10 + random.NextNormal()).ToArray()),
            ];
            CrossValidation result = CrossValidation.Of(
                "a part",
                ["1", "2", "3", "4", "5", "6"],
                40,
                (i, p) => loss[i][p],
                (i, p) => (loss[i].Sum() - loss[i][p]) / 5,
                i => loss[i].Average()
            )!;
            seen += result.SeenLoss / studies;
            left += result.Loss / studies;
        }
        // Standard errors: 0.4 / sqrt(200) = 0.03 and 1 / sqrt(6 x 200) = 0.03.
        Assert.Equal(10 - 2.16 / Math.Sqrt(6), seen, 0.1);
        Assert.Equal(10, left, 0.12);
    }

    [Fact]
    public void Sensitivity_OfChance_IsNotBelieved()
    {
        SearchAxis[] axes = [new("x"), new("y"), new("z")];
        var random = new RandomStream(5);
        double[][] points = SearchDesign.LatinHypercube(axes, 80, random);
        double[] noise = [.. points.Select(_ => random.NextNormal())];
        Sensitivity chance = Sensitivity.Of(axes, points, noise, 1)!;
        Assert.True(chance.LeaveOneOut < 0.15, $"{chance.LeaveOneOut}");
        Sensitivity real = Sensitivity.Of(axes, points, [.. points.Select(p => 3 * p[1])], 1)!;
        Assert.True(real.LeaveOneOut > 0.99);
        Assert.Equal(1, real.Shares.First[1], 0.03);
        Assert.Equal(0, real.Shares.Total[0], 0.01);
        // exp of the mean: 1 at the low end, e^3 at the high end.
        Assert.Equal(1, real.Effects[1].Loss[0], 0.05);
        Assert.Equal(Math.Exp(3), real.Effects[1].Loss[^1], 0.5);
        Assert.Null(Sensitivity.Of(axes, points, new double[80], 1));
    }

    [Fact]
    public void Windows_PartsAreNestedSpreadAndWhole()
    {
        for (int windows = 1; windows <= ScanWindows.Most; windows++)
        {
            int[] before = [];
            foreach (double part in new[] { 1.0 / 9, 1.0 / 3, 0.5, 1 })
            {
                int[] chosen = ScanWindows.Part(windows, part);
                Assert.Equal((int)Math.Ceiling(part * windows - 1e-9), chosen.Length);
                Assert.Subset(chosen.ToHashSet(), before.ToHashSet());
                before = chosen;
            }
            Assert.Equal(Enumerable.Range(0, windows), before);
        }
        // Half of 18 leaves no gap of more than two.
        int[] half = ScanWindows.Part(18, 0.5);
        Assert.All(half.Zip(half.Skip(1)), p => Assert.InRange(p.Second - p.First, 1, 3));
        var shape = new StackShape(50, 3, 10);
        Assert.Equal(50, Enumerable.Range(0, 18).Sum(w => ScanWindows.Of(shape, w).Count));
    }

    [Fact]
    public void Quantile_IsWithinHalfAPercent()
    {
        var random = new RandomStream(3);
        var score = new WindowScore();
        double[] errors = [.. Enumerable.Range(0, 5000).Select(_ => Math.Abs(random.NextNormal()) * 50e-6)];
        foreach (double error in errors)
            score.NoteError(error);
        Array.Sort(errors);
        double exact = errors[(int)(0.95 * 4999)];
        Assert.InRange(score.Of(TuneFigure.P95), exact * 0.995, exact * 1.005);
    }

    [Fact]
    public void Journal_TornOrDamaged_KeepsWhatIsWhole()
    {
        string path = Path.Combine(_folder, "scores.bin");
        string[] names = [.. Enumerable.Range(0, 3).Select(i => ScoreJournal.NameOf("context", $"{i}"))];
        using (var journal = new ScoreJournal(path))
            for (int i = 0; i < 3; i++)
            {
                var score = new WindowScore();
                score.Counts[0] = 10 + i;
                score.NoteError(1e-4);
                journal.Write(names[i], score);
            }
        byte[] whole = File.ReadAllBytes(path);
        using (var journal = new ScoreJournal(path))
        {
            Assert.Equal(3, journal.Count);
            Assert.Equal(12, journal.Read(names[2])!.Counts[0]);
            Assert.Equal(1e-4, journal.Read(names[2])!.Of(TuneFigure.P95), 1e-6);
            Assert.Null(journal.Read(ScoreJournal.NameOf("context", "9")));
        }
        File.WriteAllBytes(path, whole[..^5]);
        using (var journal = new ScoreJournal(path))
        {
            Assert.True(journal.Holds(names[1]));
            Assert.False(journal.Holds(names[2]));
            journal.Write(names[2], new WindowScore());
        }
        using (var journal = new ScoreJournal(path))
            Assert.Equal(3, journal.Count);
        whole[60] ^= 1;
        File.WriteAllBytes(path, whole);
        using (var journal = new ScoreJournal(path))
            Assert.Equal(0, journal.Count);
        File.WriteAllText(path, "something else");
        using (var journal = new ScoreJournal(path))
            Assert.Equal(0, journal.Count);
    }

    private static BlockFacts Facts(
        int scans,
        int beams,
        Func<int, double> wall,
        JudgeSettings judge,
        double couplantMetres = double.NaN
    )
    {
        using var scan = new EchoTrainSource(
            new EchoTrainScene
            {
                Scans = scans,
                Beams = beams,
                Samples = 16,
            }
        );
        int cells = scans * beams;
        return new BlockFacts(
            new StudyBlock
            {
                Source = new MemoryAScanSource(scan.Info, new byte[cells * scan.Info.AScanBytes]),
                Truth = new BlockTruth
                {
                    ThicknessMetres = [.. Enumerable.Range(0, cells).Select(wall)],
                    Cluster = new int[cells],
                    VelocityMetresPerSecond = 5920,
                    FrequencyHz = 7e6,
                    CouplantPathMetres = double.IsNaN(couplantMetres)
                        ? []
                        : [.. Enumerable.Repeat(couplantMetres, cells)],
                },
            },
            judge
        );
    }
}
