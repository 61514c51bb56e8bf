using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Reporting.Figures;
using EchoToThickness.Simulation;

namespace EchoToThickness.Reporting.Tests;

/// <summary>Pictures' raw material from the demo scene and its truth: no measuring is involved.</summary>
internal static class FigureScenes
{
    public static MapImage Map()
    {
        using EchoTrainSource source = DemoScene.Create();
        int scans = source.Info.Shape.Scans;
        int beams = source.Info.Shape.Beams;
        var truth = new double[scans * beams];
        source.ReadTruth("thickness", 0, scans, truth);
        var renderer = new EchoTrainRenderer(source.Scene);
        var values = new float[truth.Length];
        var status = new byte[truth.Length];
        for (int cell = 0; cell < truth.Length; cell++)
        {
            int scan = cell / beams;
            int beam = cell % beams;
            CellStatus what =
                !renderer.IsScanned(scan, beam) ? CellStatus.NotScanned
                : !renderer.IsCoupled(scan, beam) ? CellStatus.NoInterfaceEcho
                : !double.IsNaN(renderer.ReflectorDepthMetres(scan, beam)) ? CellStatus.LaminarReflector
                : CellStatus.Measured;
            status[cell] = (byte)what;
            values[cell] = what == CellStatus.Measured ? (float)truth[cell] : float.NaN;
        }
        return new MapImage
        {
            Title = "Demo bend patch",
            Subtitle = "true wall of the simulated patch",
            Scans = scans,
            Beams = beams,
            ValuesMetres = values,
            Status = status,
            ScanPositionsMetres = source.Info.ScanPositionsMetres,
            IndexPositionsMetres = source.Info.IndexPositionsMetres,
            LimitMetres = 6e-3,
        };
    }

    public static (MeasurementTrace Trace, List<NeighbourAScan> Neighbours) AScan()
    {
        using EchoTrainSource source = DemoScene.Create();
        EchoTrainScene scene = source.Scene;
        var renderer = new EchoTrainRenderer(scene);
        const int scan = 60;
        const int beam = 62;
        var neighbours = new List<NeighbourAScan>();
        for (int b = beam - 12; b <= beam + 12; b++)
        {
            double entry = 2 * renderer.CouplantPathMetres(scan, b) / scene.CouplantVelocityMetresPerSecond;
            double trip = 2 * renderer.ThicknessMetres(scan, b) / scene.VelocityMetresPerSecond;
            bool coupled = renderer.IsCoupled(scan, b);
            neighbours.Add(
                new NeighbourAScan(
                    b,
                    Samples(renderer, scene, scan, b),
                    coupled ? entry : double.NaN,
                    coupled ? entry + trip : double.NaN,
                    coupled ? entry + 2 * trip : double.NaN
                )
            );
        }
        NeighbourAScan centre = neighbours[12];
        double step = centre.FirstEchoSeconds - centre.InterfaceSeconds;
        var trace = new MeasurementTrace
        {
            Scan = scan,
            Beam = beam,
            SampleRateHz = scene.SampleRateHz,
            StartSeconds = scene.StartSeconds,
            Raw = centre.Signal,
            Signal = centre.Signal,
            NoiseFraction = scene.NoiseFraction,
            Interface = new InterfaceTrace
            {
                Seconds = centre.InterfaceSeconds,
                AmplitudeFraction = 0.7,
                LevelFraction = 0.35,
                SearchStartSeconds = 3e-6,
                SearchEndSeconds = 7e-6,
            },
            Result = CellResult.Unmeasured(CellStatus.Measured) with
            {
                ThicknessMetres = step * 5920 / 2,
                UncertaintyMetres = 24e-6,
                PairedOrders = 0 + 16 * 1,
                InterfaceSeconds = centre.InterfaceSeconds,
                FirstEchoSeconds = centre.FirstEchoSeconds,
                SecondEchoSeconds = centre.SecondEchoSeconds,
                RunnerUpThicknessMetres = step * 5920,
                Margin = 0.71,
            },
        };
        trace.Gates.Add(
            new GateTrace(
                "wall 1",
                centre.InterfaceSeconds + 0.8e-6,
                centre.InterfaceSeconds + 3.4e-6,
                0.02,
                centre.FirstEchoSeconds,
                0.07
            )
        );
        string[] roles = ["interface", "back-wall echo 1", "back-wall echo 2", "couplant multiple", "back-wall echo 3"];
        double[] times =
        [
            centre.InterfaceSeconds,
            centre.FirstEchoSeconds,
            centre.SecondEchoSeconds,
            2 * centre.InterfaceSeconds,
            centre.InterfaceSeconds + 3 * step,
        ];
        double[] heights = [0.7, 0.075, 0.058, 0.056, 0.045];
        for (int i = 0; i < roles.Length; i++)
            trace.Echoes.Add(
                new EchoTrace(times[i], heights[i], i == 0 || i == 3 ? 1 : -1, 0.2e-6, 28 - i, roles[i], i < 2)
            );
        return (trace, neighbours);
    }

    private static float[] Samples(EchoTrainRenderer renderer, EchoTrainScene scene, int scan, int beam)
    {
        var counts = new short[scene.Samples];
        renderer.Render(scan, beam, counts);
        return counts.Select(c => c / (float)short.MaxValue).ToArray();
    }
}
