using System.Security.Cryptography;
using System.Text;
using EchoToThickness.Grids;
using EchoToThickness.Pairing;
using EchoToThickness.Stacks;
using EchoToThickness.Statistics.Describe;
using EchoToThickness.Statistics.Spatial;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Cli.Tests;

/// <summary>Writes grids of known walls, as if they had been measured.</summary>
internal static class GridMaker
{
    public const int Scans = 150;
    public const int Beams = 96;
    public const double Pitch = 2e-3;
    public const double Noise = 20e-6;

    public static readonly ComponentFacts Pipe = new()
    {
        Kind = ComponentKind.Pipe,
        OutsideDiameterMetres = 114.3e-3,
        NominalWallMetres = 8e-3,
        LengthMetres = 0.3,
    };

    /// <summary>One population: losses with an exponential tail of 0.1 mm above 0.3 mm, correlated over about a cell; shape [scan, beam].</summary>
    public static double[] Walls(ulong seed, int scans = Scans, int beams = Beams)
    {
        var model = new VariogramModel(VariogramShape.Exponential, 0.1, 0.9, 1.8e-3, 0);
        return
        [
            .. new FieldSimulator(scans, beams, Pitch, Pitch, model, model)
                .Draw(seed, 0)
                .First.Select(z => 7.7e-3 + 0.1e-3 * Math.Log(MapDescriber.ProbabilityBelow(0, 1, -z))),
        ];
    }

    /// <summary>Independent normal noise, by a generator of its own.</summary>
    public static double[] Noisy(double[] walls, int seed, double sigma = Noise)
    {
        var random = new Random(seed);
        return
        [
            .. walls.Select(t =>
                t
                + sigma
                    * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble()))
                    * Math.Cos(2 * Math.PI * random.NextDouble())
            ),
        ];
    }

    /// <summary>Writes a grid of one line along; a NaN is a cell without a back-wall echo.</summary>
    public static void Write(
        string path,
        double[] walls,
        ComponentFacts component,
        int scans = Scans,
        int beams = Beams,
        double firstScan = Pitch / 2
    )
    {
        GridLayer[] layers =
        [
            GridLayer.Thickness,
            GridLayer.Uncertainty,
            GridLayer.UncertaintyNoise,
            GridLayer.WrongEchoProbability,
        ];
        const string procedure = "# walls made by a test\n";
        using var writer = new GridFileWriter(path);
        writer.Begin(
            new GridHeader
            {
                Stack = new StackInfo
                {
                    Name = "made.h5",
                    Shape = new StackShape(scans, beams, 16),
                    SampleType = SampleType.Int16,
                    TimeBase = new TimeBase { SampleRateHz = 100e6 },
                    Amplitude = AmplitudeScale.For(SampleType.Int16),
                    Component = component,
                    Placement = new LinePlacement
                    {
                        Direction = LineDirection.Along,
                        Origin = LineOrigin.ComponentStart,
                        Track = EncoderTrack.CentreLine,
                    },
                    ScanPositionsMetres = [.. Enumerable.Range(0, scans).Select(k => firstScan + k * Pitch)],
                    IndexPositionsMetres = [.. Enumerable.Range(0, beams).Select(k => (k + 0.5) * Pitch)],
                },
                Layers = layers,
                ProcedureText = procedure,
                ProcedureSha256 = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(procedure))),
                ProgramVersion = "test",
                VelocityMetresPerSecond = 5920,
                VelocityUncertaintyMetresPerSecond = 0,
                VelocitySource = "test",
            }
        );
        var tile = new GridTile(walls.Length, layers);
        tile.Place(0, scans, 0, beams);
        var counts = new long[Enum.GetValues<CellStatus>().Length];
        for (int k = 0; k < walls.Length; k++)
        {
            CellStatus status = double.IsNaN(walls[k]) ? CellStatus.NoBackWallEcho : CellStatus.Measured;
            counts[(int)status]++;
            tile[GridLayer.Thickness][k] = (float)walls[k];
            tile[GridLayer.Uncertainty][k] = (float)(1.5 * Noise);
            tile[GridLayer.UncertaintyNoise][k] = (float)Noise;
            tile[GridLayer.WrongEchoProbability][k] = 1e-4f;
            tile.Status[k] = (byte)status;
        }
        writer.Write(tile);
        double[] measured = [.. walls.Where(t => !double.IsNaN(t))];
        writer.Complete(
            new GridSummary
            {
                CountByStatus = counts,
                WithThickness = measured.Length,
                MinimumThicknessMetres = measured.Min(),
                MaximumThicknessMetres = measured.Max(),
            }
        );
    }
}
